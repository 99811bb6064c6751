"""Tests of rigfit; a package, so that every test can import ``tests.builders``."""
