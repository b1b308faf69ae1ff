"""What a plan asks the chapters, a module for each."""
