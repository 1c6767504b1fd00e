"""Maslin: what a soft-fruit farm sells, cooks, freezes or gives up, and when each batch is cooked."""
