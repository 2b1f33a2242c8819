"""What is asked of the nest, of sheets and of bars, and with what effort."""
