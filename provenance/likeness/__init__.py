"""Whether one find is a copy of another: pictures by their fingerprints, texts by the letter sequences they share."""
