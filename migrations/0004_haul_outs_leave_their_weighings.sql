-- A haul-out that goes (with its boat, say) leaves its weighings: only the reference is emptied, not the organisation.
-- PostgreSQL cut the constraint's name to 63 characters.
ALTER TABLE weighings DROP CONSTRAINT weighings_organisation_id_haul_out_id_haul_outs_organisation_id;
--> statement-breakpoint
ALTER TABLE weighings ADD CONSTRAINT weighings_haul_out_fk FOREIGN KEY (organisation_id, haul_out_id)
  REFERENCES haul_outs (organisation_id, id) ON DELETE SET NULL (haul_out_id);
