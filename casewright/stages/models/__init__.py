"""What is made of modelled sets: model files, meshes to turn, delivered pieces."""
