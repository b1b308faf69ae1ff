"""An answer: calculator, sheet, figures and drawings.  It knows no chapter, no renderer."""
