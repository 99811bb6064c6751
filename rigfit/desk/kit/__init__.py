"""The kit the form is built from: theme, letters, icons and our own widgets.

Everything that knows customtkinter's or Tk's ways is here; panels and window put it together.
Nothing is imported on the way in: take each name from the module that holds it.
"""
