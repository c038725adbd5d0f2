-- Columns by the words of docs/glossary.md.
ALTER TABLE refusal RENAME COLUMN mend TO fix;
ALTER TABLE alert RENAME COLUMN told_at TO notified_at;
ALTER TABLE alert RENAME COLUMN told_severity TO notified_severity;
ALTER TABLE alert RENAME COLUMN told_severity_at TO notified_severity_at;
ALTER TABLE alert RENAME COLUMN told_times TO notified_times;
ALTER TABLE alert RENAME COLUMN told_over TO notified_over;
