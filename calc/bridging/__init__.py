"""Chapter “Bridging”: channel loads, bridged power, and which speakers go where."""
