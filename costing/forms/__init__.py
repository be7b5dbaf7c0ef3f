"""What people type, read into values. Forms check and keep input; services decide."""
