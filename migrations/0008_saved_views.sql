CREATE TABLE "saved_views" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"person" text NOT NULL,
	"name" text NOT NULL,
	"query" text NOT NULL,
	"is_default" boolean DEFAULT false NOT NULL,
	CONSTRAINT "saved_views_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "saved_views_name" UNIQUE("organisation_id","person","name"),
	CONSTRAINT "saved_views_name_not_empty" CHECK (length(trim("saved_views"."name")) > 0)
);
--> statement-breakpoint
ALTER TABLE "saved_views" ADD CONSTRAINT "saved_views_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "saved_views_default" ON "saved_views" USING btree ("organisation_id","person") WHERE "saved_views"."is_default";--> statement-breakpoint
-- Changes of a view are based on its version, as all changes are. It is no record of the fleet: the audit trail, which tells when forecasts are old, leaves it out.
CREATE TRIGGER saved_views_version BEFORE UPDATE ON saved_views FOR EACH ROW
  WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION raise_version();
