"""The dashboard: pages in the cook's words, and planning in a process of its own."""
