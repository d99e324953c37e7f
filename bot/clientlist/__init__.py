"""A builder's clients as a file of comma-separated values, read with faults by line and written."""
