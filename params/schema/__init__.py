"""What the files under params may say."""
