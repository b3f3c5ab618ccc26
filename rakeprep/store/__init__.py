"""One job, one file: entries that are only ever added, chained by their hashes, with photos beside them."""
