"""How it is written: DXF, SVG and PDF, from shapes and style alone; it would render a garden as gladly as a ceiling."""

import logging

# The DXF library warns on standard error when it cannot keep its font cache in the home folder; we measure no fonts.
logging.getLogger("ezdxf").addHandler(logging.NullHandler())
