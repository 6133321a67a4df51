CREATE TABLE "finding_events" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"finding_id" uuid NOT NULL,
	"number" bigint GENERATED ALWAYS AS IDENTITY (sequence name "finding_events_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	"actor" text NOT NULL,
	"kind" text NOT NULL,
	"from_state" text,
	"to_state" text NOT NULL,
	"note" text,
	"data" jsonb,
	CONSTRAINT "finding_events_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
ALTER TABLE "findings" DROP CONSTRAINT "findings_of_something";--> statement-breakpoint
ALTER TABLE "findings" DROP CONSTRAINT "findings_organisation_id_anode_id_anodes_organisation_id_id_fk";
--> statement-breakpoint
ALTER TABLE "findings" DROP CONSTRAINT "findings_organisation_id_berth_id_berths_organisation_id_id_fk";
--> statement-breakpoint
ALTER TABLE "findings" DROP CONSTRAINT "findings_organisation_id_pontoon_id_pontoons_organisation_id_id_fk";
--> statement-breakpoint
ALTER TABLE "findings" ALTER COLUMN "since_on" SET NOT NULL;--> statement-breakpoint
ALTER TABLE "findings" ALTER COLUMN "surprise" SET NOT NULL;--> statement-breakpoint
ALTER TABLE "berths" ADD COLUMN "plan_x" double precision;--> statement-breakpoint
ALTER TABLE "berths" ADD COLUMN "plan_y" double precision;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "scope" text NOT NULL;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "opened_on" date NOT NULL;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "as_of" date NOT NULL;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "seen_revision" bigint NOT NULL;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "not_seen_since" date;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "confirmed_cause" text;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "resolved_on" date;--> statement-breakpoint
ALTER TABLE "findings" ADD COLUMN "reopened" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "organisations" ADD COLUMN "false_discovery_rate" double precision DEFAULT 0.05 NOT NULL;--> statement-breakpoint
ALTER TABLE "finding_events" ADD CONSTRAINT "finding_events_organisation_id_finding_id_findings_organisation_id_id_fk" FOREIGN KEY ("organisation_id","finding_id") REFERENCES "public"."findings"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "finding_events_finding" ON "finding_events" USING btree ("organisation_id","finding_id");--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_anode_id_anodes_organisation_id_id_fk" FOREIGN KEY ("organisation_id","anode_id") REFERENCES "public"."anodes"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_berth_id_berths_organisation_id_id_fk" FOREIGN KEY ("organisation_id","berth_id") REFERENCES "public"."berths"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_pontoon_id_pontoons_organisation_id_id_fk" FOREIGN KEY ("organisation_id","pontoon_id") REFERENCES "public"."pontoons"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "berths" ADD CONSTRAINT "berths_place_on_plan" CHECK (num_nonnulls("berths"."plan_x", "berths"."plan_y") in (0, 2)
      and abs(coalesce("berths"."plan_x", 0)) <= 1e6 and abs(coalesce("berths"."plan_y", 0)) <= 1e6);--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_resolved_on_a_day" CHECK ("findings"."state" <> 'resolved' or "findings"."resolved_on" is not null);--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_of_something" CHECK (("findings"."scope" in ('anode', 'boat')) = ("findings"."boat_id" is not null));--> statement-breakpoint
ALTER TABLE "organisations" ADD CONSTRAINT "organisations_false_discovery_rate_in_range" CHECK ("organisations"."false_discovery_rate" between 0.0001 and 0.5);