"""Generated workbooks: described as data, written by one writer, read back by field name."""
