"""Mounting: does it fit, can a hand reach the controls, does it breathe.  Imports core only."""
