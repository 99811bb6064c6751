"""Pure engineering: frozen records in, findings and complete results out; no files, no screen."""
