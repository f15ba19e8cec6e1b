"""Small line drawings from a short description: as letters for the terminal, as SVG for notes."""
