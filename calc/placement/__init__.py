"""Mounting: does it fit, can a hand reach the controls, will it stay cool.  Imports core only."""
