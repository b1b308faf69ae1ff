"""What a person or a link gives, and how it is read.  Raw input is hostile until then."""
