"""Tests of a scenario folder while it is edited."""
