"""The calendar of a builder's fires as it is read from the web, by whoever has its address."""
