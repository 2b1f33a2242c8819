"""Pictures for the site by lines, without the kernel: bodies, a camera, what hides what."""
