"""Drawings from outside."""
