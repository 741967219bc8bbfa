"""Job cards on paper: tonight's on one or two sheets."""
