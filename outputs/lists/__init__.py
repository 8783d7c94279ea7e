"""The workshop's papers: what to buy, how to cut it, what to do in which order."""
