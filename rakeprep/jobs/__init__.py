"""One job open: the single door for changes, and what follows from its entries."""
