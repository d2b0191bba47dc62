"""What a device can do beside showing a window, each behind a small port of ours."""
