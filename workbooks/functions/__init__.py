"""Workbooks that show the functions themselves."""
