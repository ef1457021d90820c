"""From required to order quantities: today by wastage allowance, item by item."""
