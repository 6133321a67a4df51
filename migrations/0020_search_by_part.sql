-- Boats are found by any part of their name, owners by their name or address: each in a statement that looks at what it gives, not at the
-- whole organisation. With PostgreSQL's own extensions, as btree_gist: whoever may create in the database may create it.
CREATE EXTENSION IF NOT EXISTS pg_trgm;--> statement-breakpoint
CREATE INDEX "boats_by_part" ON "boats" USING gist ("organisation_id","name" gist_trgm_ops);--> statement-breakpoint
-- Rules on rows go first, and what may not tell of rows beyond them (ILIKE, lower) waits until they have been tried: under them no index is
-- read by such a condition. So these two read as the tables' owner does, with the same rules in their own text.
--
-- part: a pattern of ILIKE; most: of how many at the most.
CREATE FUNCTION boats_holding(part text, most integer) RETURNS SETOF uuid LANGUAGE sql STABLE ROWS 20
SECURITY DEFINER SET search_path = public, pg_temp AS $$
  SELECT b.id FROM boats b
  WHERE b.organisation_id = acting_organisation() AND b.name ILIKE part
    AND (acting_owner() IS NULL OR b.owner_id IN (
      SELECT o.id FROM owners o WHERE o.organisation_id = acting_organisation() AND lower(o.email) = acting_owner()))
  LIMIT most
$$;
--> statement-breakpoint
-- called: a name as written, or an address in either case.
CREATE FUNCTION owners_called(called text) RETURNS SETOF uuid LANGUAGE sql STABLE ROWS 10
SECURITY DEFINER SET search_path = public, pg_temp AS $$
  SELECT o.id FROM owners o
  WHERE o.organisation_id = acting_organisation() AND (o.name = called OR lower(o.email) = lower(called))
    AND (acting_owner() IS NULL OR lower(o.email) = acting_owner())
$$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION boats_holding(text, integer), owners_called(text) FROM PUBLIC;
--> statement-breakpoint
GRANT EXECUTE ON FUNCTION boats_holding(text, integer), owners_called(text) TO anode_ledger_service;
