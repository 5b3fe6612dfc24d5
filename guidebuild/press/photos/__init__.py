"""Photos read, turned, coloured and copied for what is published."""
