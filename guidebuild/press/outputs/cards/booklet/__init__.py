"""A booklet of facing pages: spreads of species and look-alikes, what stands before and behind them, and how it is bound."""
