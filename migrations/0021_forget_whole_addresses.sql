-- Links to sign in, which are of no organisation, were removed wherever the forgotten address stood, as a part of another's too: whoever forgot
-- ann@example.org took the link that joann@example.org was waiting for, in whichever yard. Now as a whole alone; the rest is as it was.
CREATE OR REPLACE FUNCTION forget_person(forgotten text, alias text, alias_address text) RETURNS TABLE (changed text, number bigint)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  org uuid := acting_organisation();
  names text[];
  written text[];
  named text;
  n bigint;
BEGIN
  IF org IS NULL OR acting_owner() IS NOT NULL THEN
    RAISE EXCEPTION 'nobody said for which organisation';
  END IF;
  PERFORM set_config('app.forgetting', 'on', true);
  SELECT coalesce(array_agg(DISTINCT known.name), '{}') INTO names FROM (
    SELECT o.name FROM owners o WHERE o.organisation_id = org AND lower(o.email) = forgotten
    UNION SELECT entry.said ->> 'name' FROM audit_entries e CROSS JOIN LATERAL (VALUES (e.before), (e.after)) AS entry (said)
      WHERE e.organisation_id = org AND e.table_name = 'owners' AND lower(entry.said ->> 'email') = forgotten
  ) AS known WHERE known.name IS NOT NULL;
  -- Names of a single word may be the name of anything: they go where they stand for the owner, and stay in what people wrote.
  SELECT forgotten || coalesce(array_agg(name), '{}') INTO written FROM unnest(names) name WHERE name ~ '\S\s+\S';

  INSERT INTO forgotten_people (organisation_id, address_sha256, alias)
    VALUES (org, encode(sha256(convert_to(forgotten, 'UTF8')), 'hex'), forget_person.alias) ON CONFLICT DO NOTHING;
  DELETE FROM calendar_feeds WHERE organisation_id = org AND email = forgotten;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'calendar_feeds'; number := n; RETURN NEXT;
  DELETE FROM saved_views WHERE organisation_id = org AND person = 'person:' || forgotten;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'saved_views'; number := n; RETURN NEXT;
  DELETE FROM notice_addresses WHERE organisation_id = org AND email = forgotten;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'notice_addresses'; number := n; RETURN NEXT;
  DELETE FROM idempotency_keys WHERE organisation_id = org
    AND (lower(actor) = 'person:' || forgotten OR position(forgotten IN lower(idempotency_keys::text)) > 0);
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'idempotency_keys'; number := n; RETURN NEXT;
  DELETE FROM members WHERE organisation_id = org AND email = forgotten;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'members'; number := n; RETURN NEXT;

  -- What still waits is not sent.
  UPDATE notices SET email = alias_address,
      state = CASE WHEN state = 'waiting' THEN 'dropped' ELSE state END,
      next_attempt_at = CASE WHEN state = 'waiting' THEN NULL ELSE next_attempt_at END,
      once = without_person(once, ARRAY[forgotten], alias_address),
      failure = without_person(failure, written, alias),
      why = without_person(why, written, alias)
    WHERE organisation_id = org AND email = forgotten;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'notices'; number := n; RETURN NEXT;
  UPDATE notices_told SET email = alias_address WHERE organisation_id = org AND email = forgotten;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'notices_told'; number := n; RETURN NEXT;

  UPDATE owners o SET name = alias || ' ' || numbered.place, email = NULL
    FROM (SELECT id, row_number() OVER (ORDER BY created_at, id) AS place FROM owners
      WHERE organisation_id = org AND lower(email) = forgotten) AS numbered
    WHERE o.organisation_id = org AND o.id = numbered.id;
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'owners'; number := n; RETURN NEXT;

  UPDATE haul_outs SET note = without_person(note, written, alias)
    WHERE organisation_id = org AND note IS DISTINCT FROM without_person(note, written, alias);
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'haul_outs'; number := n; RETURN NEXT;
  UPDATE weighings SET note = without_person(note, written, alias)
    WHERE organisation_id = org AND note IS DISTINCT FROM without_person(note, written, alias);
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'weighings'; number := n; RETURN NEXT;
  UPDATE finding_events SET actor = without_person(actor, ARRAY[forgotten], alias_address),
      note = without_person(note, written, alias),
      data = without_person(data, written, alias)
    WHERE organisation_id = org
      AND (actor, note, data) IS DISTINCT FROM (without_person(actor, ARRAY[forgotten], alias_address),
        without_person(note, written, alias), without_person(data, written, alias));
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'finding_events'; number := n; RETURN NEXT;
  UPDATE webhook_events SET data = without_person(data, written, alias)
    WHERE organisation_id = org AND data IS DISTINCT FROM without_person(data, written, alias);
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'webhook_events'; number := n; RETURN NEXT;
  UPDATE webhook_attempts SET answer_start = without_person(answer_start, written, alias)
    WHERE organisation_id = org AND answer_start IS DISTINCT FROM without_person(answer_start, written, alias);
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'webhook_attempts'; number := n; RETURN NEXT;

  FOR named IN SELECT unnest(ARRAY['api_keys', 'webhooks']) LOOP
    EXECUTE format('UPDATE %I SET name = without_person(name, $1, $2) WHERE organisation_id = $3 AND name <> without_person(name, $1, $2)', named)
      USING written, alias, org;
    GET DIAGNOSTICS n = ROW_COUNT; changed := named; number := n; RETURN NEXT;
  END LOOP;

  -- Last: what was changed above stands in the trail too, as it was before.
  UPDATE audit_entries e SET actor = redacted.actor, reason = redacted.reason, before = redacted.before, after = redacted.after
    FROM (
      SELECT id, without_person(a.actor, ARRAY[forgotten], alias_address) AS actor, without_person(a.reason, written, alias) AS reason,
        without_owner(a.before, CASE WHEN a.table_name = 'owners' THEN names END, written, alias) AS before,
        without_owner(a.after, CASE WHEN a.table_name = 'owners' THEN names END, written, alias) AS after
      FROM audit_entries a WHERE a.organisation_id = org
    ) AS redacted
    WHERE e.organisation_id = org AND e.id = redacted.id
      AND (e.actor, e.reason, e.before, e.after) IS DISTINCT FROM (redacted.actor, redacted.reason, redacted.before, redacted.after);
  GET DIAGNOSTICS n = ROW_COUNT; changed := 'audit_entries'; number := n; RETURN NEXT;

  -- Signing in belongs to the person: it goes where no other organisation knows them.
  n := 0;
  IF NOT EXISTS (SELECT FROM members WHERE email = forgotten) AND NOT EXISTS (SELECT FROM owners WHERE lower(email) = forgotten) THEN
    DELETE FROM auth_verifications v
      WHERE without_person(v.identifier || ' ' || v.value, ARRAY[forgotten], '') IS DISTINCT FROM v.identifier || ' ' || v.value;
    DELETE FROM auth_users WHERE lower(email) = forgotten;
    GET DIAGNOSTICS n = ROW_COUNT;
  END IF;
  changed := 'auth_users'; number := n; RETURN NEXT;
  PERFORM set_config('app.forgetting', '', true);
END $$;
