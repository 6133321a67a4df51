-- What a finding was found on may go (a pontoon whose berths were renumbered, an anode that was logged by mistake): the finding stays,
-- with the names that it was found under.
ALTER TABLE findings DROP CONSTRAINT findings_organisation_id_anode_id_anodes_organisation_id_id_fk;
--> statement-breakpoint
ALTER TABLE findings DROP CONSTRAINT findings_organisation_id_berth_id_berths_organisation_id_id_fk;
--> statement-breakpoint
-- PostgreSQL cut the constraint's name to 63 characters.
ALTER TABLE findings DROP CONSTRAINT findings_organisation_id_pontoon_id_pontoons_organisation_id_id;
--> statement-breakpoint
ALTER TABLE findings ADD CONSTRAINT findings_anode_fk FOREIGN KEY (organisation_id, anode_id)
  REFERENCES anodes (organisation_id, id) ON DELETE SET NULL (anode_id);
--> statement-breakpoint
ALTER TABLE findings ADD CONSTRAINT findings_berth_fk FOREIGN KEY (organisation_id, berth_id)
  REFERENCES berths (organisation_id, id) ON DELETE SET NULL (berth_id);
--> statement-breakpoint
ALTER TABLE findings ADD CONSTRAINT findings_pontoon_fk FOREIGN KEY (organisation_id, pontoon_id)
  REFERENCES pontoons (organisation_id, id) ON DELETE SET NULL (pontoon_id);
--> statement-breakpoint
-- Every refit sees a finding again and tells its figures anew: that is no change of it. Its life is in its events, and they are what
-- enters the audit trail.
DROP TRIGGER findings_audit_insert ON findings;
--> statement-breakpoint
DROP TRIGGER findings_audit_update ON findings;
--> statement-breakpoint
DROP TRIGGER findings_audit_delete ON findings;
--> statement-breakpoint
CREATE TRIGGER finding_events_audit_insert AFTER INSERT ON finding_events REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION audit_rows();
--> statement-breakpoint
DROP TRIGGER findings_version ON findings;
--> statement-breakpoint
-- Its version counts the steps of its life: a refit that tells the figures anew takes nothing from under anybody's hands.
CREATE FUNCTION raise_version_of_finding() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE findings SET version = version + 1 WHERE organisation_id = NEW.organisation_id AND id = NEW.finding_id;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER finding_events_raise_version AFTER INSERT ON finding_events FOR EACH ROW
  EXECUTE FUNCTION raise_version_of_finding();
--> statement-breakpoint
CREATE FUNCTION finding_events_are_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  -- They go with their finding, which goes with its boat: that delete comes from another trigger.
  IF TG_OP = 'DELETE' AND pg_trigger_depth() > 1 THEN
    RETURN NULL;
  END IF;
  RAISE EXCEPTION 'the history of a finding is only ever added to' USING ERRCODE = '23514',
    CONSTRAINT = 'finding_events_append_only', TABLE = 'finding_events';
END $$;
--> statement-breakpoint
CREATE TRIGGER finding_events_append_only BEFORE UPDATE OR DELETE ON finding_events
  FOR EACH STATEMENT EXECUTE FUNCTION finding_events_are_append_only();
--> statement-breakpoint
-- The settings that decide what is due and what is a finding are in the trail as well.
CREATE FUNCTION audit_organisation() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO audit_entries (organisation_id, actor, action, table_name, row_id, reason, before, after)
  VALUES (NEW.id, coalesce(nullif(current_setting('app.actor', true), ''), 'database'), 'update', TG_TABLE_NAME, NEW.id,
    nullif(current_setting('app.reason', true), ''), to_jsonb(OLD), to_jsonb(NEW));
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER organisations_audit_update AFTER UPDATE ON organisations FOR EACH ROW
  WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION audit_organisation();
