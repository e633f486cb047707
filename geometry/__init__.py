"""The pipe trade's geometry: numbers in, numbers out; millimeters and degrees at every door."""
