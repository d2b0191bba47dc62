"""Work on tubes: expanding, tube ends, the load on a plug, pressure tests."""
