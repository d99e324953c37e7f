"""Ovens whose equations the belief does not know, many at a time, and cheap."""
