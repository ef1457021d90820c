"""The thermal fabric: U-values by the combined method and through the ground, heat loss of the house, parity.

`combined_method`, `air_layers`, `ground` and `thickness` are plain rules that know nothing of houses; `layers_of`,
`elements`, `ground_floor` and `heat_loss` bring build-ups and sticks to them; `restoring` turns them round.
"""
