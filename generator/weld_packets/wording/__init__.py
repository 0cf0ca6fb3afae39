"""Every sentence and label, made from typed values."""
