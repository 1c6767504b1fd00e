"""Tests of the law: names, labels, guards and cautions against published figures."""
