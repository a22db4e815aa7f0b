"""Drawings from outside: their lines read, told apart, cleaned, and made nets that fold up."""
