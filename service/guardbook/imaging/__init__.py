"""Floor 6: pictures, as far as their pixels are looked at."""
