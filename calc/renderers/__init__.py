"""From forms and sheets to HTML, text and data.  They know shapes, not the trade."""
