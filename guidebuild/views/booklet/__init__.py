"""What a booklet shows: spreads of species and of look-alikes, and what stands before and behind them."""
