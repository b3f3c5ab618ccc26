"""From a finished job to a sealed document, and back from the document to a judgement on it."""
