-- Lists are read a page at a time: an index in the order of each gives the rows of the page alone.
CREATE INDEX "stays_by_day" ON "stays" USING btree ("organisation_id","from_on","id");--> statement-breakpoint
CREATE INDEX "boats_by_name" ON "boats" USING btree ("organisation_id","name" collate "C","id");--> statement-breakpoint
CREATE INDEX "boats_by_creation" ON "boats" USING btree ("organisation_id","created_at","id");--> statement-breakpoint
CREATE INDEX "haul_outs_by_day" ON "haul_outs" USING btree ("organisation_id","hauled_on","id");--> statement-breakpoint
CREATE INDEX "weighings_by_day" ON "weighings" USING btree ("organisation_id","weighed_on","id");--> statement-breakpoint
-- Unless told otherwise the planner expects a thousand rows of each of these, adds their making to each look-up by index, and so reads whole
-- tables instead. They are made once a statement at most, for an owner, who has a few boats.
ALTER FUNCTION seen_owners() ROWS 10;--> statement-breakpoint
ALTER FUNCTION seen_boats() ROWS 10;--> statement-breakpoint
ALTER FUNCTION seen_anodes() ROWS 100;
