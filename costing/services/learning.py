"""What a kitchen's own batches teach: yields, Brix, residue and the pan's own rate."""
