"""Drawings: each view builds one scene in millimetres; the writers only replay it."""
