"""The sections of the condition report, one file each; `order` says in which order."""
