"""What a user is told, and in which words: lengths, findings, refusals."""
