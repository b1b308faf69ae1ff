"""What can hang on which outputs: feeds, wirings, channels, voltages."""
