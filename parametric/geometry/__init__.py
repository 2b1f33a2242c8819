"""Where things are: axes, boxes, outlines, poses and hands; nothing of furniture."""
