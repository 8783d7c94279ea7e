"""What goes into a collar: units, build file, catalogues."""
