"""Options side by side: each a change to the model, evaluated the same way, compared with the base."""
