"""From views to bytes: pictures, pages, PDFs, and the folder they are published in."""
