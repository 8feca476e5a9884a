"""Documents from results: drawings of a design, the shop's sheets, and what the client gets. Nothing is computed here."""
