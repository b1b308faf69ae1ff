"""What an amplifier is held against."""
