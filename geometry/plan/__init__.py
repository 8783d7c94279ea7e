"""What goes how into what: vessels into the well."""
