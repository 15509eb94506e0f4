"""How members are made: grid lines clipped to the room, runs of stock pieces, trim along the walls, furring."""
