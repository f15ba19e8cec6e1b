"""Foundry arithmetic: sand, mould, iron, pouring, gating and feeding, each with its source."""
