"""What slides show: sets of pictures with few words, to be posted one after the other."""
