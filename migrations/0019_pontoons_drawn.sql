CREATE TABLE "drawn_berths" (
	"organisation_id" uuid NOT NULL,
	"berth_id" uuid NOT NULL,
	"pontoon_id" uuid NOT NULL,
	"side" text NOT NULL,
	"place" integer NOT NULL,
	CONSTRAINT "drawn_berths_organisation_id_berth_id_pk" PRIMARY KEY("organisation_id","berth_id"),
	CONSTRAINT "drawn_berths_place" UNIQUE("organisation_id","pontoon_id","side","place"),
	CONSTRAINT "drawn_berths_place_from_one" CHECK ("drawn_berths"."place" >= 1)
);
--> statement-breakpoint
CREATE TABLE "drawn_pontoons" (
	"organisation_id" uuid NOT NULL,
	"pontoon_id" uuid NOT NULL,
	"shore_x_m" double precision NOT NULL,
	"shore_y_m" double precision NOT NULL,
	"heading_degrees" double precision NOT NULL,
	"berth_length_m" double precision,
	"berth_width_m" double precision,
	CONSTRAINT "drawn_pontoons_organisation_id_pontoon_id_pk" PRIMARY KEY("organisation_id","pontoon_id"),
	CONSTRAINT "drawn_pontoons_on_the_plan" CHECK (abs("drawn_pontoons"."shore_x_m") <= 10000 and abs("drawn_pontoons"."shore_y_m") <= 10000),
	CONSTRAINT "drawn_pontoons_heading" CHECK ("drawn_pontoons"."heading_degrees" >= 0 and "drawn_pontoons"."heading_degrees" < 360),
	CONSTRAINT "drawn_pontoons_berths_positive" CHECK ("drawn_pontoons"."berth_length_m" > 0 and "drawn_pontoons"."berth_width_m" > 0)
);
--> statement-breakpoint
ALTER TABLE "drawn_berths" ADD CONSTRAINT "drawn_berths_organisation_id_berth_id_berths_organisation_id_id_fk" FOREIGN KEY ("organisation_id","berth_id") REFERENCES "public"."berths"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "drawn_berths" ADD CONSTRAINT "drawn_berths_organisation_id_pontoon_id_drawn_pontoons_organisation_id_pontoon_id_fk" FOREIGN KEY ("organisation_id","pontoon_id") REFERENCES "public"."drawn_pontoons"("organisation_id","pontoon_id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "drawn_pontoons" ADD CONSTRAINT "drawn_pontoons_organisation_id_pontoon_id_pontoons_organisation_id_id_fk" FOREIGN KEY ("organisation_id","pontoon_id") REFERENCES "public"."pontoons"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
-- Those who work for the harbour draw it; an owner needs no plan of where others lie.
SELECT confine_rows('drawn_pontoons', 'organisation_id', 'false'), confine_rows('drawn_berths', 'organisation_id', 'false');
