"""Chapter “Bridging”: channel loads, bridged power, and which output feeds what."""
