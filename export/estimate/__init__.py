"""What a job costs and what is bought for it."""
