"""What is bought: boards, bands, bars and hardware, with tolerances, sources and lengths."""
