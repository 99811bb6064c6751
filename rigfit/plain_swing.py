"""The command ``swing``."""
