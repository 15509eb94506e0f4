"""What will be built: layout, services, framing and the findings about them."""
