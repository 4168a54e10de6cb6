"""Which day, mould, batch and minute: a Problem of whole numbers in, a plan by the minute and its bounds out."""
