"""The auditor: plans worked by hand, each rule broken once, and damage of any kind."""
