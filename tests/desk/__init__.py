"""Tests of the desktop form; those with a window start an X server of their own."""
