"""The only place that loads the CAD kernel: from the layout to solid parts."""
