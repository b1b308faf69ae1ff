"""Set-up: signal levels, gain by meter, boost, test tones, turn-on and commissioning."""
