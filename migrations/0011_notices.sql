CREATE TABLE "boat_reminders" (
	"organisation_id" uuid NOT NULL,
	"boat_id" uuid NOT NULL,
	"snoozed_until" date,
	"stopped_at" timestamp with time zone,
	CONSTRAINT "boat_reminders_organisation_id_boat_id_pk" PRIMARY KEY("organisation_id","boat_id")
);
--> statement-breakpoint
CREATE TABLE "notice_addresses" (
	"organisation_id" uuid NOT NULL,
	"email" text NOT NULL,
	"stopped_at" timestamp with time zone,
	"refused_at" timestamp with time zone,
	"refusal" text,
	CONSTRAINT "notice_addresses_organisation_id_email_pk" PRIMARY KEY("organisation_id","email"),
	CONSTRAINT "notice_addresses_lower_case" CHECK ("notice_addresses"."email" = lower("notice_addresses"."email"))
);
--> statement-breakpoint
CREATE TABLE "notices" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"kind" text NOT NULL,
	"boat_id" uuid,
	"email" text NOT NULL,
	"once" text NOT NULL,
	"decided_on" date NOT NULL,
	"why" jsonb NOT NULL,
	"state" text DEFAULT 'waiting' NOT NULL,
	"attempts" integer DEFAULT 0 NOT NULL,
	"next_attempt_at" timestamp with time zone,
	"sent_at" timestamp with time zone,
	"failure" text,
	CONSTRAINT "notices_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "notices_once" UNIQUE("organisation_id","email","once"),
	CONSTRAINT "notices_waiting_for_something" CHECK (("notices"."state" = 'waiting') = ("notices"."next_attempt_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "notices_told" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"notice_id" uuid NOT NULL,
	"number" bigint GENERATED ALWAYS AS IDENTITY (sequence name "notices_told_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"email" text NOT NULL,
	"subject" text NOT NULL,
	"is_finding" boolean NOT NULL,
	"stage" text NOT NULL,
	"turn" integer NOT NULL,
	"told_on" date NOT NULL,
	"p10" date,
	"p90" date,
	CONSTRAINT "notices_told_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "notices_told_once" UNIQUE("organisation_id","email","subject","turn","stage")
);
--> statement-breakpoint
CREATE TABLE "reminder_settings" (
	"organisation_id" uuid NOT NULL,
	"enabled" boolean DEFAULT false NOT NULL,
	"lead_days" integer DEFAULT 60 NOT NULL,
	"quiet_from" integer DEFAULT 20 NOT NULL,
	"quiet_to" integer DEFAULT 8 NOT NULL,
	"time_zone" text DEFAULT 'UTC' NOT NULL,
	"language" text DEFAULT 'en' NOT NULL,
	CONSTRAINT "reminder_settings_organisation_id_pk" PRIMARY KEY("organisation_id")
);
--> statement-breakpoint
ALTER TABLE "boat_reminders" ADD CONSTRAINT "boat_reminders_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "notice_addresses" ADD CONSTRAINT "notice_addresses_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "notices" ADD CONSTRAINT "notices_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "notices" ADD CONSTRAINT "notices_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "notices_told" ADD CONSTRAINT "notices_told_organisation_id_notice_id_notices_organisation_id_id_fk" FOREIGN KEY ("organisation_id","notice_id") REFERENCES "public"."notices"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "reminder_settings" ADD CONSTRAINT "reminder_settings_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "notices_due" ON "notices" USING btree ("next_attempt_at") WHERE "notices"."state" = 'waiting';--> statement-breakpoint
CREATE INDEX "notices_log" ON "notices" USING btree ("organisation_id","created_at");