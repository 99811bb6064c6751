"""The only readers and writers of files: jobs, profiles, tables and safe saving."""
