"""The sentences of findings: one function a code, by what finds it.

Each takes a finding and says what was found, what would be right, and what cures it. These are
the only places that know the wording; nothing reads it back.
"""
