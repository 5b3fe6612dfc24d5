"""PDF: formats, layout, fitting, sheets and what a print shop asks for."""
