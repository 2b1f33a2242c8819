"""From sheets, bars and boxes to labels."""
