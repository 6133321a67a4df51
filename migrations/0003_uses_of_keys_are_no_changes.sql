-- Noting that a key was used is no change of the key: it neither raises its version nor enters the audit trail (and so
-- does not make forecasts look stale). Neither does an update that leaves a row as it was.
DROP TRIGGER api_keys_version ON api_keys;
--> statement-breakpoint
CREATE TRIGGER api_keys_version BEFORE UPDATE ON api_keys FOR EACH ROW
  WHEN ((OLD.name, OLD.role, OLD.prefix, OLD.secret_sha256, OLD.expires_at, OLD.revoked_at) IS DISTINCT FROM
    (NEW.name, NEW.role, NEW.prefix, NEW.secret_sha256, NEW.expires_at, NEW.revoked_at))
  EXECUTE FUNCTION raise_version();
--> statement-breakpoint
CREATE OR REPLACE FUNCTION audit_rows() RETURNS trigger LANGUAGE plpgsql AS $$
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
    FROM new_rows n JOIN old_rows o ON o.organisation_id = n.organisation_id AND o.id = n.id
    WHERE to_jsonb(n) - 'last_used_at' IS DISTINCT FROM to_jsonb(o) - 'last_used_at';
  END IF;
  RETURN NULL;
END $$;
