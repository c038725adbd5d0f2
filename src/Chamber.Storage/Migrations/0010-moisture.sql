-- How damp mix or towel felt at a look; null when nobody said.
ALTER TABLE look ADD COLUMN moisture TEXT CHECK (moisture IN ('Dry', 'Moist', 'Wet'));
