"""Bill and price: decimals throughout, every line told."""
