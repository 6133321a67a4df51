-- What must never be, held by the database itself: overlaps, a weighing outside its anode's life or below its core
-- mass, a silent overwrite. And the audit trail, written by triggers so that no path can forget it.
CREATE EXTENSION IF NOT EXISTS btree_gist;
--> statement-breakpoint
-- Deferrable: an import may close one stay and open the next in any order, and is checked before it commits.
ALTER TABLE stays ADD CONSTRAINT stays_no_overlap EXCLUDE USING gist (
  organisation_id WITH =, boat_id WITH =, daterange(from_on, to_on) WITH &&
) DEFERRABLE INITIALLY IMMEDIATE;
--> statement-breakpoint
ALTER TABLE anodes ADD CONSTRAINT anodes_one_at_a_position EXCLUDE USING gist (
  organisation_id WITH =, position_id WITH =, daterange(fitted_on, removed_on) WITH &&
) DEFERRABLE INITIALLY IMMEDIATE;
--> statement-breakpoint
CREATE FUNCTION raise_version() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.version := OLD.version + 1;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE FUNCTION audit_rows() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  who text := coalesce(nullif(current_setting('app.actor', true), ''), 'database');
  why text := nullif(current_setting('app.reason', true), '');
BEGIN
  IF TG_OP = 'INSERT' THEN
    INSERT INTO audit_entries (organisation_id, actor, action, table_name, row_id, reason, after)
    SELECT n.organisation_id, who, 'insert', TG_TABLE_NAME, n.id, why, to_jsonb(n) FROM new_rows n;
  ELSIF TG_OP = 'DELETE' THEN
    INSERT INTO audit_entries (organisation_id, actor, action, table_name, row_id, reason, before)
    SELECT o.organisation_id, who, 'delete', TG_TABLE_NAME, o.id, why, to_jsonb(o) FROM old_rows o;
  ELSE
    INSERT INTO audit_entries (organisation_id, actor, action, table_name, row_id, reason, before, after)
    SELECT n.organisation_id, who, 'update', TG_TABLE_NAME, n.id, why, to_jsonb(o), to_jsonb(n)
    FROM new_rows n JOIN old_rows o ON o.organisation_id = n.organisation_id AND o.id = n.id;
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
DO $$
DECLARE
  audited text;
BEGIN
  FOREACH audited IN ARRAY ARRAY['members', 'api_keys', 'owners', 'boats', 'fittings', 'pontoons', 'berths', 'stays',
    'positions', 'anodes', 'haul_outs', 'weighings', 'potentials', 'continuity_readings', 'photos', 'findings']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE ON %I FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*)
      EXECUTE FUNCTION raise_version()', audited || '_version', audited);
    EXECUTE format('CREATE TRIGGER %I AFTER INSERT ON %I REFERENCING NEW TABLE AS new_rows
      FOR EACH STATEMENT EXECUTE FUNCTION audit_rows()', audited || '_audit_insert', audited);
    EXECUTE format('CREATE TRIGGER %I AFTER UPDATE ON %I REFERENCING OLD TABLE AS old_rows NEW TABLE AS new_rows
      FOR EACH STATEMENT EXECUTE FUNCTION audit_rows()', audited || '_audit_update', audited);
    EXECUTE format('CREATE TRIGGER %I AFTER DELETE ON %I REFERENCING OLD TABLE AS old_rows
      FOR EACH STATEMENT EXECUTE FUNCTION audit_rows()', audited || '_audit_delete', audited);
  END LOOP;
END $$;
--> statement-breakpoint
CREATE TRIGGER organisations_version BEFORE UPDATE ON organisations FOR EACH ROW
  WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION raise_version();
--> statement-breakpoint
CREATE FUNCTION audit_trail_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'the audit trail is only ever added to' USING ERRCODE = '23514', CONSTRAINT = 'audit_trail_append_only';
END $$;
--> statement-breakpoint
CREATE TRIGGER audit_entries_append_only BEFORE UPDATE OR DELETE ON audit_entries
  FOR EACH STATEMENT EXECUTE FUNCTION audit_trail_is_append_only();
--> statement-breakpoint
CREATE FUNCTION check_new_weighings() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  bad record;
BEGIN
  SELECT w.weighed_on, a.name, a.fitted_on, a.removed_on INTO bad
  FROM new_rows w JOIN anodes a ON a.organisation_id = w.organisation_id AND a.id = w.anode_id
  WHERE w.weighed_on < a.fitted_on OR w.weighed_on > a.removed_on LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'weighed on %, but anode % was fitted from % to %', bad.weighed_on, bad.name, bad.fitted_on, bad.removed_on
      USING ERRCODE = '23514', CONSTRAINT = 'weighings_within_anode_life', TABLE = 'weighings';
  END IF;
  -- A scale may read low by its own resolution, no further.
  SELECT w.mass_g, a.name, a.core_mass_g INTO bad
  FROM new_rows w JOIN anodes a ON a.organisation_id = w.organisation_id AND a.id = w.anode_id
  WHERE w.mass_g + coalesce(w.resolution_g, 0) < a.core_mass_g LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION '% g is below the core mass of anode % (% g)', bad.mass_g, bad.name, bad.core_mass_g
      USING ERRCODE = '23514', CONSTRAINT = 'weighings_not_below_core', TABLE = 'weighings';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER weighings_check_insert AFTER INSERT ON weighings REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION check_new_weighings();
--> statement-breakpoint
CREATE TRIGGER weighings_check_update AFTER UPDATE ON weighings REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION check_new_weighings();
--> statement-breakpoint
CREATE FUNCTION check_weighings_of_anodes() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  bad record;
BEGIN
  SELECT w.weighed_on, a.name INTO bad
  FROM new_rows a JOIN weighings w ON w.organisation_id = a.organisation_id AND w.anode_id = a.id
  WHERE w.weighed_on < a.fitted_on OR w.weighed_on > a.removed_on LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'anode % has a weighing on %, outside these dates', bad.name, bad.weighed_on
      USING ERRCODE = '23514', CONSTRAINT = 'weighings_within_anode_life', TABLE = 'anodes';
  END IF;
  SELECT w.mass_g, w.weighed_on, a.name INTO bad
  FROM new_rows a JOIN weighings w ON w.organisation_id = a.organisation_id AND w.anode_id = a.id
  WHERE w.mass_g + coalesce(w.resolution_g, 0) < a.core_mass_g LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'anode % weighed % g on %, which is below this core mass', bad.name, bad.mass_g, bad.weighed_on
      USING ERRCODE = '23514', CONSTRAINT = 'weighings_not_below_core', TABLE = 'anodes';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER anodes_check_weighings AFTER UPDATE ON anodes REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION check_weighings_of_anodes();
--> statement-breakpoint
-- A weighing is corrected, never silently overwritten: whoever changes what was measured says why.
CREATE FUNCTION require_reason() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF nullif(current_setting('app.reason', true), '') IS NULL THEN
    RAISE EXCEPTION 'a weighing is corrected with a reason' USING ERRCODE = '23514',
      CONSTRAINT = 'weighings_corrected_with_reason', TABLE = 'weighings';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER weighings_need_reason BEFORE UPDATE ON weighings FOR EACH ROW
  WHEN ((OLD.weighed_on, OLD.method, OLD.mass_g, OLD.resolution_g, OLD.cleaned, OLD.submerged_mass_g, OLD.submerged_in,
    OLD.wasted_percent, OLD.length_mm, OLD.width_mm, OLD.height_mm, OLD.conditions) IS DISTINCT FROM
    (NEW.weighed_on, NEW.method, NEW.mass_g, NEW.resolution_g, NEW.cleaned, NEW.submerged_mass_g, NEW.submerged_in,
    NEW.wasted_percent, NEW.length_mm, NEW.width_mm, NEW.height_mm, NEW.conditions))
  EXECUTE FUNCTION require_reason();
