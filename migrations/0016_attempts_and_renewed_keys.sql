-- Counters alone: not worth a write-ahead log, and an empty table after a crash does no harm.
CREATE UNLOGGED TABLE "attempts" (
	"key" text PRIMARY KEY NOT NULL,
	"count" integer NOT NULL,
	"until" timestamp with time zone NOT NULL
);
--> statement-breakpoint
ALTER TABLE "api_keys" ADD COLUMN "scope" text DEFAULT 'all' NOT NULL;--> statement-breakpoint
ALTER TABLE "api_keys" ADD COLUMN "secret_made_at" timestamp with time zone DEFAULT now() NOT NULL;--> statement-breakpoint
ALTER TABLE "api_keys" ADD COLUMN "previous_prefix" text;--> statement-breakpoint
ALTER TABLE "api_keys" ADD COLUMN "previous_secret_sha256" text;--> statement-breakpoint
ALTER TABLE "api_keys" ADD COLUMN "previous_secret_until" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "api_keys" ADD COLUMN "previous_used_at" timestamp with time zone;--> statement-breakpoint
CREATE INDEX "attempts_until" ON "attempts" USING btree ("until");--> statement-breakpoint
ALTER TABLE "api_keys" ADD CONSTRAINT "api_keys_previous_secret" UNIQUE("previous_secret_sha256");--> statement-breakpoint
ALTER TABLE "api_keys" ADD CONSTRAINT "api_keys_previous_secret_whole" CHECK (("api_keys"."previous_secret_sha256" is null) = ("api_keys"."previous_secret_until" is null) and ("api_keys"."previous_secret_sha256" is null) = ("api_keys"."previous_prefix" is null));
--> statement-breakpoint
-- Which organisation's it is nobody says: whoever guesses belongs to none.
SELECT confine_rows('attempts', NULL), open_across('attempts', 'SELECT, INSERT, UPDATE, DELETE');
--> statement-breakpoint
-- Keys that are there have the secret they were made with. That is no change of them.
ALTER TABLE api_keys DISABLE TRIGGER USER;
--> statement-breakpoint
UPDATE api_keys SET secret_made_at = created_at;
--> statement-breakpoint
ALTER TABLE api_keys ENABLE TRIGGER USER;
--> statement-breakpoint
DROP TRIGGER api_keys_version ON api_keys;
--> statement-breakpoint
CREATE TRIGGER api_keys_version BEFORE UPDATE ON api_keys FOR EACH ROW
  WHEN ((OLD.name, OLD.role, OLD.scope, OLD.prefix, OLD.secret_sha256, OLD.previous_secret_sha256, OLD.expires_at, OLD.revoked_at)
    IS DISTINCT FROM (NEW.name, NEW.role, NEW.scope, NEW.prefix, NEW.secret_sha256, NEW.previous_secret_sha256, NEW.expires_at, NEW.revoked_at))
  EXECUTE FUNCTION raise_version();
--> statement-breakpoint
-- Noting a use of either secret is no change either.
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
    WHERE to_jsonb(n) - '{last_used_at,previous_used_at}'::text[] IS DISTINCT FROM to_jsonb(o) - '{last_used_at,previous_used_at}'::text[];
  END IF;
  RETURN NULL;
END $$;
