"""The version of rigfit, in the one place that everything else reads."""

VERSION = "0.1.0"
