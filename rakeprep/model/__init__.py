"""What the program talks about: frozen classes without behaviour of their own."""
