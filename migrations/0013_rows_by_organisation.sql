-- Rows are an organisation's, and the database itself holds it: whoever works for an organisation reads and writes its rows and no others,
-- an owner only what hangs on their boats, whatever the query forgot to say.
--
-- Two roles, of the whole cluster, that nobody signs in as: the connecting user takes them on. Where it may not make roles, somebody who may
-- makes them before (docs/data-model.md).
DO $$
DECLARE
  wanted text;
BEGIN
  FOREACH wanted IN ARRAY ARRAY['anode_ledger_service', 'anode_ledger_across'] LOOP
    BEGIN
      IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = wanted) THEN
        EXECUTE format('CREATE ROLE %I NOLOGIN NOSUPERUSER NOBYPASSRLS NOCREATEDB NOCREATEROLE', wanted);
      END IF;
    EXCEPTION
      WHEN duplicate_object OR unique_violation THEN NULL; -- another database of the cluster, at the same moment
      WHEN insufficient_privilege THEN
        RAISE EXCEPTION 'the role % is missing, and % may not make it', wanted, current_user
          USING HINT = format('As an administrator of the server: CREATE ROLE %I NOLOGIN; GRANT %I TO %I;', wanted, wanted, current_user);
    END;
    IF EXISTS (SELECT FROM pg_roles WHERE rolname = wanted AND (rolsuper OR rolbypassrls)) THEN
      RAISE EXCEPTION 'the role % may pass by what holds rows apart', wanted;
    END IF;
    IF NOT (SELECT rolsuper FROM pg_roles WHERE rolname = current_user) THEN
      BEGIN
        EXECUTE format('GRANT %I TO %I', wanted, current_user);
      EXCEPTION WHEN insufficient_privilege THEN NULL; -- made and granted by an administrator
      END;
    END IF;
    IF NOT pg_has_role(current_user, wanted, 'MEMBER') THEN
      RAISE EXCEPTION '% may not take on the role %', current_user, wanted
        USING HINT = format('As an administrator of the server: GRANT %I TO %I;', wanted, current_user);
    END IF;
  END LOOP;
END $$;
--> statement-breakpoint
-- For whom the transaction works, as `inOrganisation` says it; nothing, and so no rows, where nobody has said.
CREATE FUNCTION acting_organisation() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE AS $$
  SELECT nullif(current_setting('app.org', true), '')::uuid
$$;
--> statement-breakpoint
-- The address of the owner for whose eyes it is, in small letters; nothing for those who see the whole organisation.
CREATE FUNCTION acting_owner() RETURNS text LANGUAGE sql STABLE PARALLEL SAFE AS $$
  SELECT nullif(current_setting('app.owner', true), '')
$$;
--> statement-breakpoint
-- Whether it is for the whole organisation: true or, for an owner, nothing. Asked with IS NOT NULL, which the planner takes for nearly always
-- true: any other test halves its guess of the rows of each table.
CREATE FUNCTION acting_for_all() RETURNS boolean LANGUAGE sql STABLE PARALLEL SAFE AS $$
  SELECT CASE WHEN acting_owner() IS NULL THEN true END
$$;
--> statement-breakpoint
-- Ids of an owner's rows: of all that the asker sees. In a language that is not merged into queries, for else each query on a weighing would
-- be planned with the rules of anodes, boats and owners along, though nearly all are asked for the whole organisation.
CREATE FUNCTION seen_owners() RETURNS SETOF uuid LANGUAGE plpgsql STABLE AS $$
BEGIN
  RETURN QUERY SELECT o.id FROM owners o;
END $$;
--> statement-breakpoint
CREATE FUNCTION seen_boats() RETURNS SETOF uuid LANGUAGE plpgsql STABLE AS $$
BEGIN
  RETURN QUERY SELECT b.id FROM boats b;
END $$;
--> statement-breakpoint
CREATE FUNCTION seen_anodes() RETURNS SETOF uuid LANGUAGE plpgsql STABLE AS $$
BEGIN
  RETURN QUERY SELECT a.id FROM anodes a;
END $$;
--> statement-breakpoint
-- The same for every table, and for those of later migrations.
-- organisation: the column that says whose a row is; empty for a table that belongs to none, which the service then does not see at all.
-- owners_see: which of an organisation's rows an owner may see and write.
CREATE FUNCTION confine_rows(confined regclass, organisation text, owners_see text DEFAULT 'true') RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('ALTER TABLE %s ENABLE ROW LEVEL SECURITY', confined);
  EXECUTE format('ALTER TABLE %s FORCE ROW LEVEL SECURITY', confined);
  -- Forced, the rules hold for the tables' owner too: what changes tables must see all rows.
  EXECUTE format('CREATE POLICY of_migrations ON %s TO %I USING (true) WITH CHECK (true)', confined, current_user);
  IF organisation IS NULL THEN
    RETURN;
  END IF;
  EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON %s TO anode_ledger_service', confined);
  EXECUTE format('CREATE POLICY of_the_organisation ON %s TO anode_ledger_service
    USING (%I = (SELECT acting_organisation())) WITH CHECK (%I = (SELECT acting_organisation()))', confined, organisation, organisation);
  IF owners_see <> 'true' THEN
    EXECUTE format('CREATE POLICY of_the_owner ON %s AS RESTRICTIVE TO anode_ledger_service
      USING ((SELECT acting_for_all()) IS NOT NULL OR (%s))', confined, owners_see);
  END IF;
END $$;
--> statement-breakpoint
-- What is by nature done for all organisations at once (who is it that asks, what is due) is done by a role of its own, on these tables alone.
CREATE FUNCTION open_across(opened regclass, privileges text) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('GRANT %s ON %s TO anode_ledger_across', privileges, opened);
  EXECUTE format('CREATE POLICY across_organisations ON %s TO anode_ledger_across USING (true) WITH CHECK (true)', opened);
END $$;
--> statement-breakpoint
SELECT
  confine_rows('organisations', 'id'),
  confine_rows('members', 'organisation_id', 'email = (SELECT acting_owner())'),
  confine_rows('api_keys', 'organisation_id', 'false'),
  confine_rows('owners', 'organisation_id', 'lower(email) = (SELECT acting_owner())'),
  confine_rows('boats', 'organisation_id', 'owner_id IN (SELECT seen_owners())'),
  confine_rows('fittings', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('positions', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('anodes', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('stays', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('haul_outs', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('weighings', 'organisation_id', 'anode_id IN (SELECT seen_anodes())'),
  confine_rows('potentials', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('continuity_readings', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('photos', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  confine_rows('forecasts', 'organisation_id', 'anode_id IN (SELECT seen_anodes())'),
  confine_rows('boat_reminders', 'organisation_id', 'boat_id IN (SELECT seen_boats())'),
  -- Of a berth or a pontoon: whether a boat of theirs is among those it was found on is in its detail, and the service looks there.
  confine_rows('findings', 'organisation_id', 'boat_id IS NULL OR boat_id IN (SELECT seen_boats())'),
  confine_rows('finding_events', 'organisation_id', 'finding_id IN (SELECT id FROM findings)'),
  confine_rows('notices', 'organisation_id', 'email = (SELECT acting_owner())'),
  confine_rows('notices_told', 'organisation_id', 'email = (SELECT acting_owner())'),
  confine_rows('notice_addresses', 'organisation_id', 'email = (SELECT acting_owner())'),
  confine_rows('calendar_feeds', 'organisation_id', 'email = (SELECT acting_owner())'),
  confine_rows('calendar_entries', 'organisation_id', 'feed_id IN (SELECT id FROM calendar_feeds)'),
  confine_rows('saved_views', 'organisation_id', $owner$person = 'person:' || (SELECT acting_owner())$owner$),
  confine_rows('idempotency_keys', 'organisation_id', $owner$actor = 'person:' || (SELECT acting_owner())$owner$),
  confine_rows('webhook_deliveries', 'organisation_id'),
  confine_rows('webhook_attempts', 'organisation_id', 'false'),
  -- The whole organisation's: no row of these is about one boat alone.
  confine_rows('berths', 'organisation_id'),
  confine_rows('pontoons', 'organisation_id'),
  confine_rows('model_fits', 'organisation_id'),
  confine_rows('reminder_settings', 'organisation_id'),
  confine_rows('jobs', 'organisation_id'),
  confine_rows('webhooks', 'organisation_id'),
  confine_rows('webhook_events', 'organisation_id'),
  confine_rows('audit_entries', 'organisation_id'),
  -- Of people and of the service itself, who belong to no organisation.
  confine_rows('set_up_tokens', NULL),
  confine_rows('service_keys', NULL),
  confine_rows('auth_users', NULL),
  confine_rows('auth_sessions', NULL),
  confine_rows('auth_accounts', NULL),
  confine_rows('auth_verifications', NULL),
  confine_rows('person_preferences', NULL),
  confine_rows('push_subscriptions', NULL);
--> statement-breakpoint
REVOKE UPDATE, DELETE ON audit_entries FROM anode_ledger_service;
--> statement-breakpoint
-- Triggers write an owner's answers to the trail, and events tell of them to other systems: written, not read.
CREATE POLICY of_the_owner ON audit_entries AS RESTRICTIVE FOR SELECT TO anode_ledger_service
  USING ((SELECT acting_for_all()) IS NOT NULL
    OR table_name = 'weighings' AND (coalesce(after, before) ->> 'anode_id')::uuid IN (SELECT seen_anodes()));
--> statement-breakpoint
CREATE POLICY of_the_owner ON webhook_events AS RESTRICTIVE FOR SELECT TO anode_ledger_service
  USING ((SELECT acting_for_all()) IS NOT NULL);
--> statement-breakpoint
CREATE POLICY of_the_owner ON webhook_deliveries AS RESTRICTIVE FOR SELECT TO anode_ledger_service
  USING ((SELECT acting_for_all()) IS NOT NULL);
--> statement-breakpoint
-- An organisation knows the people who are its members, or its boats' owners: how they like to be written to.
GRANT SELECT (id, name, email) ON auth_users TO anode_ledger_service;
--> statement-breakpoint
CREATE POLICY of_the_organisation ON auth_users FOR SELECT TO anode_ledger_service
  USING (lower(email) IN (SELECT m.email FROM members m UNION ALL SELECT lower(o.email) FROM owners o WHERE o.email IS NOT NULL));
--> statement-breakpoint
GRANT SELECT ON person_preferences TO anode_ledger_service;
--> statement-breakpoint
CREATE POLICY of_the_organisation ON person_preferences FOR SELECT TO anode_ledger_service
  USING (user_id IN (SELECT id FROM auth_users));
--> statement-breakpoint
SELECT
  -- Who asks, and where they may go.
  open_across('auth_users', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('auth_sessions', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('auth_accounts', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('auth_verifications', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('person_preferences', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('push_subscriptions', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('service_keys', 'SELECT, INSERT'),
  open_across('owners', 'SELECT'),
  open_across('calendar_feeds', 'SELECT'),
  -- The first organisation, and its first administrator or key.
  open_across('set_up_tokens', 'SELECT, INSERT, UPDATE, DELETE'),
  open_across('organisations', 'SELECT, INSERT'),
  open_across('members', 'SELECT, INSERT'),
  open_across('api_keys', 'SELECT, INSERT'),
  open_across('audit_entries', 'INSERT'),
  -- What is due, and what is old.
  open_across('reminder_settings', 'SELECT'),
  open_across('notices', 'SELECT, UPDATE'),
  open_across('webhooks', 'SELECT'),
  open_across('webhook_events', 'SELECT, DELETE'),
  open_across('webhook_deliveries', 'SELECT, UPDATE'),
  open_across('jobs', 'SELECT, UPDATE'),
  open_across('idempotency_keys', 'SELECT, DELETE');
