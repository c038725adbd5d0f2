-- How deep a batch was sown, mm of mix above the seed; null for the usual depth of its crop.
ALTER TABLE batch ADD COLUMN depth_mm REAL CHECK (depth_mm BETWEEN 0 AND 200);
