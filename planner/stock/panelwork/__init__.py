"""What the cutting of panels is made of: cuts right across, and edges that must be the factory's."""
