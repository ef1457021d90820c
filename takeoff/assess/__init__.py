"""From quantities and factors to figures: mass, cost, upfront carbon, stored carbon, the cost ladder."""
