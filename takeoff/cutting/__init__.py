"""From required to order quantities: plans of every piece where what is on sale is known, else allowances."""
