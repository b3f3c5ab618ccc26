"""One editor for each way of answering."""
