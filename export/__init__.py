"""Every file a person or a machine reads."""
