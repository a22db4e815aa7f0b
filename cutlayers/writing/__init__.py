"""What puts bytes on the disk: whole or not at all, and never over a file that is not ours."""
