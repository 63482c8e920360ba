"""What a builder describes: frozen models whose quantities are texts with units."""
