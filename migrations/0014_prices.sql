CREATE TABLE "price_lists" (
	"organisation_id" uuid NOT NULL,
	"currency" text NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	CONSTRAINT "price_lists_organisation_id_pk" PRIMARY KEY("organisation_id"),
	CONSTRAINT "price_lists_currency_code" CHECK ("price_lists"."currency" ~ '^[A-Z]{3}$')
);
--> statement-breakpoint
CREATE TABLE "prices" (
	"organisation_id" uuid NOT NULL,
	"place" integer NOT NULL,
	"kind" text NOT NULL,
	"alloy" text,
	"shape" text,
	"mass_g" double precision,
	"since" date NOT NULL,
	"cents" integer NOT NULL,
	CONSTRAINT "prices_organisation_id_place_pk" PRIMARY KEY("organisation_id","place"),
	CONSTRAINT "prices_thing" UNIQUE NULLS NOT DISTINCT("organisation_id","kind","alloy","shape","mass_g","since"),
	CONSTRAINT "prices_not_negative" CHECK ("prices"."cents" >= 0),
	CONSTRAINT "prices_mass_positive" CHECK ("prices"."mass_g" > 0),
	CONSTRAINT "prices_lift_is_no_part" CHECK ("prices"."kind" = 'part' or ("prices"."alloy" is null and "prices"."shape" is null and "prices"."mass_g" is null))
);
--> statement-breakpoint
ALTER TABLE "price_lists" ADD CONSTRAINT "price_lists_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "prices" ADD CONSTRAINT "prices_organisation_id_price_lists_organisation_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."price_lists"("organisation_id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
-- Owners are told what their boats cost, by the yard's prices.
SELECT confine_rows('price_lists', 'organisation_id'), confine_rows('prices', 'organisation_id');
--> statement-breakpoint
CREATE POLICY of_the_owner ON price_lists AS RESTRICTIVE FOR UPDATE TO anode_ledger_service USING ((SELECT acting_owner()) IS NULL);
--> statement-breakpoint
CREATE POLICY of_the_owner_new ON price_lists AS RESTRICTIVE FOR INSERT TO anode_ledger_service WITH CHECK ((SELECT acting_owner()) IS NULL);
--> statement-breakpoint
CREATE POLICY of_the_owner ON prices AS RESTRICTIVE FOR DELETE TO anode_ledger_service USING ((SELECT acting_owner()) IS NULL);
--> statement-breakpoint
CREATE POLICY of_the_owner_new ON prices AS RESTRICTIVE FOR INSERT TO anode_ledger_service WITH CHECK ((SELECT acting_owner()) IS NULL);
