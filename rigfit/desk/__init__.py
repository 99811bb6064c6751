"""The desktop form: what it holds and can do (no Tk here), and the window that shows it."""
