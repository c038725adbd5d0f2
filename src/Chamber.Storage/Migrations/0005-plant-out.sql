-- The day on which a batch is to be planted out, as 2027-05-17; it stood among the settings before.
ALTER TABLE batch ADD COLUMN plant_out TEXT CHECK (plant_out IS date(plant_out));
UPDATE batch SET plant_out = (SELECT date(value) FROM setting WHERE name = 'plant-out.' || batch.id AND date(value) IS value);
DELETE FROM setting WHERE name LIKE 'plant-out.%';
