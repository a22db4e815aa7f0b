"""Writers: each turns a drawing into bytes and knows nothing of boxes."""
