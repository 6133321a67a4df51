CREATE TABLE "anodes" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"position_id" uuid NOT NULL,
	"name" text NOT NULL,
	"alloy" text,
	"shape" text,
	"fitted_on" date,
	"removed_on" date,
	"gross_mass_g" double precision,
	"core_mass_g" double precision,
	"length_mm" double precision,
	"width_mm" double precision,
	"height_mm" double precision,
	"bonded" boolean,
	CONSTRAINT "anodes_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "anodes_name" UNIQUE("organisation_id","boat_id","name"),
	CONSTRAINT "anodes_name_not_empty" CHECK (length(trim("anodes"."name")) > 0),
	CONSTRAINT "anodes_removed_after_fitted" CHECK ("anodes"."removed_on" >= "anodes"."fitted_on"),
	CONSTRAINT "anodes_mass_positive" CHECK ("anodes"."gross_mass_g" > 0),
	CONSTRAINT "anodes_core_not_negative" CHECK ("anodes"."core_mass_g" >= 0),
	CONSTRAINT "anodes_core_below_gross" CHECK ("anodes"."core_mass_g" < "anodes"."gross_mass_g"),
	CONSTRAINT "anodes_dimensions_positive" CHECK ("anodes"."length_mm" > 0 and "anodes"."width_mm" > 0 and "anodes"."height_mm" > 0)
);
--> statement-breakpoint
CREATE TABLE "positions" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"label" text NOT NULL,
	"slot" integer DEFAULT 1 NOT NULL,
	"kind" text NOT NULL,
	"wasting_threshold" double precision,
	CONSTRAINT "positions_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "positions_place" UNIQUE("organisation_id","boat_id","label","slot"),
	CONSTRAINT "positions_boat" UNIQUE("organisation_id","boat_id","id"),
	CONSTRAINT "positions_threshold_is_a_fraction" CHECK ("positions"."wasting_threshold" > 0 and "positions"."wasting_threshold" < 1),
	CONSTRAINT "positions_slot_from_one" CHECK ("positions"."slot" >= 1)
);
--> statement-breakpoint
CREATE TABLE "berths" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"name" text NOT NULL,
	"pontoon_id" uuid,
	"water" text,
	"salinity_psu" double precision,
	"latitude" double precision,
	"longitude" double precision,
	"shore_power" boolean,
	CONSTRAINT "berths_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "berths_name" UNIQUE("organisation_id","name"),
	CONSTRAINT "berths_name_not_empty" CHECK (length(trim("berths"."name")) > 0),
	CONSTRAINT "berths_salinity_in_range" CHECK ("berths"."salinity_psu" between 0 and 42),
	CONSTRAINT "berths_latitude_in_range" CHECK ("berths"."latitude" between -90 and 90),
	CONSTRAINT "berths_longitude_in_range" CHECK ("berths"."longitude" between -180 and 180)
);
--> statement-breakpoint
CREATE TABLE "pontoons" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"name" text NOT NULL,
	CONSTRAINT "pontoons_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "pontoons_name" UNIQUE("organisation_id","name"),
	CONSTRAINT "pontoons_name_not_empty" CHECK (length(trim("pontoons"."name")) > 0)
);
--> statement-breakpoint
CREATE TABLE "stays" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"berth_id" uuid,
	"from_on" date NOT NULL,
	"to_on" date,
	"shore_power_hours_per_day" double precision,
	CONSTRAINT "stays_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "stays_start" UNIQUE("organisation_id","boat_id","from_on"),
	CONSTRAINT "stays_end_after_start" CHECK ("stays"."to_on" >= "stays"."from_on"),
	CONSTRAINT "stays_shore_power_hours" CHECK ("stays"."shore_power_hours_per_day" between 0 and 24)
);
--> statement-breakpoint
CREATE TABLE "boats" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"name" text NOT NULL,
	"owner_id" uuid,
	"hull" text,
	"galvanic_isolator" text,
	"launched_year" integer,
	"wasting_threshold" double precision,
	CONSTRAINT "boats_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "boats_name" UNIQUE("organisation_id","name"),
	CONSTRAINT "boats_name_not_empty" CHECK (length(trim("boats"."name")) > 0),
	CONSTRAINT "boats_threshold_is_a_fraction" CHECK ("boats"."wasting_threshold" > 0 and "boats"."wasting_threshold" < 1),
	CONSTRAINT "boats_launched_year_plausible" CHECK ("boats"."launched_year" between 1800 and 2200)
);
--> statement-breakpoint
CREATE TABLE "fittings" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"name" text NOT NULL,
	"metal" text,
	"area_cm2" double precision,
	"coated" boolean,
	"bonded" boolean,
	CONSTRAINT "fittings_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "fittings_name" UNIQUE("organisation_id","boat_id","name"),
	CONSTRAINT "fittings_area_not_negative" CHECK ("fittings"."area_cm2" >= 0)
);
--> statement-breakpoint
CREATE TABLE "owners" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"name" text,
	"email" text,
	CONSTRAINT "owners_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "owners_person" UNIQUE NULLS NOT DISTINCT("organisation_id","name","email"),
	CONSTRAINT "owners_name_or_email" CHECK ("owners"."name" is not null or "owners"."email" is not null)
);
--> statement-breakpoint
CREATE TABLE "findings" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid,
	"anode_id" uuid,
	"berth_id" uuid,
	"pontoon_id" uuid,
	"direction" text NOT NULL,
	"state" text DEFAULT 'open' NOT NULL,
	"since_on" date,
	"surprise" double precision,
	"detail" jsonb NOT NULL,
	CONSTRAINT "findings_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "findings_of_something" CHECK (num_nonnulls("findings"."boat_id", "findings"."anode_id", "findings"."berth_id", "findings"."pontoon_id") >= 1)
);
--> statement-breakpoint
CREATE TABLE "forecasts" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"fit_id" uuid NOT NULL,
	"anode_id" uuid NOT NULL,
	"as_of" date NOT NULL,
	"recommended_on" date,
	"replace_p50" date,
	"risk_before_next_haul_out" double precision,
	"item" jsonb NOT NULL,
	CONSTRAINT "forecasts_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "forecasts_anode_day" UNIQUE("organisation_id","anode_id","as_of"),
	CONSTRAINT "forecasts_risk_is_probability" CHECK ("forecasts"."risk_before_next_haul_out" between 0 and 1)
);
--> statement-breakpoint
CREATE TABLE "model_fits" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"as_of" date NOT NULL,
	"data_revision" bigint NOT NULL,
	"fitted_at" timestamp with time zone NOT NULL,
	"intervals" integer NOT NULL,
	"summary" jsonb NOT NULL,
	CONSTRAINT "model_fits_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "audit_entries" (
	"organisation_id" uuid NOT NULL,
	"id" bigint GENERATED ALWAYS AS IDENTITY (sequence name "audit_entries_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	"actor" text NOT NULL,
	"action" text NOT NULL,
	"table_name" text NOT NULL,
	"row_id" uuid NOT NULL,
	"reason" text,
	"before" jsonb,
	"after" jsonb,
	CONSTRAINT "audit_entries_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "idempotency_keys" (
	"organisation_id" uuid NOT NULL,
	"actor" text NOT NULL,
	"key" text NOT NULL,
	"request_sha256" text NOT NULL,
	"status" integer,
	"headers" jsonb,
	"body" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "idempotency_keys_organisation_id_actor_key_pk" PRIMARY KEY("organisation_id","actor","key"),
	CONSTRAINT "idempotency_keys_key_length" CHECK (length("idempotency_keys"."key") between 1 and 255)
);
--> statement-breakpoint
CREATE TABLE "jobs" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"kind" text NOT NULL,
	"state" text DEFAULT 'queued' NOT NULL,
	"progress" double precision DEFAULT 0 NOT NULL,
	"step" text,
	"error" text,
	"started_at" timestamp with time zone,
	"finished_at" timestamp with time zone,
	CONSTRAINT "jobs_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "jobs_progress_is_a_share" CHECK ("jobs"."progress" between 0 and 1)
);
--> statement-breakpoint
CREATE TABLE "api_keys" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"name" text NOT NULL,
	"role" text NOT NULL,
	"prefix" text NOT NULL,
	"secret_sha256" text NOT NULL,
	"expires_at" timestamp with time zone,
	"last_used_at" timestamp with time zone,
	"revoked_at" timestamp with time zone,
	CONSTRAINT "api_keys_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "api_keys_secret" UNIQUE("secret_sha256"),
	CONSTRAINT "api_keys_not_for_owners" CHECK ("api_keys"."role" <> 'owner')
);
--> statement-breakpoint
CREATE TABLE "members" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"email" text NOT NULL,
	"user_id" text,
	"role" text NOT NULL,
	CONSTRAINT "members_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "members_email" UNIQUE("organisation_id","email"),
	CONSTRAINT "members_email_lower_case" CHECK ("members"."email" = lower("members"."email"))
);
--> statement-breakpoint
CREATE TABLE "organisations" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"name" text NOT NULL,
	"wasting_threshold" double precision DEFAULT 0.5 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	CONSTRAINT "organisations_name_not_empty" CHECK (length(trim("organisations"."name")) > 0),
	CONSTRAINT "organisations_threshold_is_a_fraction" CHECK ("organisations"."wasting_threshold" > 0 and "organisations"."wasting_threshold" < 1)
);
--> statement-breakpoint
CREATE TABLE "set_up_tokens" (
	"token_sha256" text PRIMARY KEY NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"used_at" timestamp with time zone
);
--> statement-breakpoint
CREATE TABLE "photos" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"weighing_id" uuid,
	"haul_out_id" uuid,
	"sha256" text NOT NULL,
	"media_type" text NOT NULL,
	"width_px" integer NOT NULL,
	"height_px" integer NOT NULL,
	"bytes" integer NOT NULL,
	CONSTRAINT "photos_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "photos_of_one_thing" CHECK (num_nonnulls("photos"."weighing_id", "photos"."haul_out_id") = 1)
);
--> statement-breakpoint
CREATE TABLE "continuity_readings" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"measured_at" timestamp with time zone NOT NULL,
	"from_name" text NOT NULL,
	"to_name" text NOT NULL,
	"ohms" double precision NOT NULL,
	CONSTRAINT "continuity_readings_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "continuity_reading" UNIQUE("organisation_id","boat_id","measured_at","from_name","to_name"),
	CONSTRAINT "continuity_ohms_not_negative" CHECK ("continuity_readings"."ohms" >= 0)
);
--> statement-breakpoint
CREATE TABLE "potentials" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"fitting_id" uuid,
	"measured_at" timestamp with time zone NOT NULL,
	"reference" text,
	"volts" double precision NOT NULL,
	"shore_power" text,
	"circuits" text,
	CONSTRAINT "potentials_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "potentials_reading" UNIQUE NULLS NOT DISTINCT("organisation_id","boat_id","measured_at","fitting_id"),
	CONSTRAINT "potentials_volts_plausible" CHECK ("potentials"."volts" between -3 and 3)
);
--> statement-breakpoint
CREATE TABLE "auth_accounts" (
	"id" text PRIMARY KEY NOT NULL,
	"account_id" text NOT NULL,
	"provider_id" text NOT NULL,
	"user_id" text NOT NULL,
	"access_token" text,
	"refresh_token" text,
	"id_token" text,
	"access_token_expires_at" timestamp with time zone,
	"refresh_token_expires_at" timestamp with time zone,
	"scope" text,
	"password" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "auth_sessions" (
	"id" text PRIMARY KEY NOT NULL,
	"user_id" text NOT NULL,
	"token" text NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"ip_address" text,
	"user_agent" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "auth_sessions_token_unique" UNIQUE("token")
);
--> statement-breakpoint
CREATE TABLE "auth_users" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"email" text NOT NULL,
	"email_verified" boolean DEFAULT false NOT NULL,
	"image" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "auth_users_email_unique" UNIQUE("email")
);
--> statement-breakpoint
CREATE TABLE "auth_verifications" (
	"id" text PRIMARY KEY NOT NULL,
	"identifier" text NOT NULL,
	"value" text NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "haul_outs" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"boat_id" uuid NOT NULL,
	"hauled_on" date NOT NULL,
	"relaunched_on" date,
	"planned" boolean,
	"note" text,
	CONSTRAINT "haul_outs_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "haul_outs_day" UNIQUE("organisation_id","boat_id","hauled_on"),
	CONSTRAINT "haul_outs_relaunched_after" CHECK ("haul_outs"."relaunched_on" >= "haul_outs"."hauled_on")
);
--> statement-breakpoint
CREATE TABLE "weighings" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"anode_id" uuid NOT NULL,
	"haul_out_id" uuid,
	"weighed_on" date NOT NULL,
	"method" text DEFAULT 'scale' NOT NULL,
	"mass_g" double precision,
	"resolution_g" double precision,
	"cleaned" boolean,
	"submerged_mass_g" double precision,
	"submerged_in" text,
	"wasted_percent" double precision,
	"length_mm" double precision,
	"width_mm" double precision,
	"height_mm" double precision,
	"conditions" text[] DEFAULT '{}' NOT NULL,
	"note" text,
	CONSTRAINT "weighings_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "weighings_anode_day" UNIQUE("organisation_id","anode_id","weighed_on"),
	CONSTRAINT "weighings_mass_positive" CHECK ("weighings"."mass_g" > 0),
	CONSTRAINT "weighings_resolution_positive" CHECK ("weighings"."resolution_g" > 0),
	CONSTRAINT "weighings_submerged_below_dry" CHECK ("weighings"."submerged_mass_g" >= 0 and "weighings"."submerged_mass_g" < "weighings"."mass_g"),
	CONSTRAINT "weighings_wasted_is_percent" CHECK ("weighings"."wasted_percent" between 0 and 100),
	CONSTRAINT "weighings_says_something" CHECK (case "weighings"."method" when 'scale' then "weighings"."mass_g" is not null
        when 'visual' then "weighings"."wasted_percent" is not null
        else "weighings"."length_mm" is not null or "weighings"."width_mm" is not null or "weighings"."height_mm" is not null end),
	CONSTRAINT "weighings_dimensions_positive" CHECK ("weighings"."length_mm" > 0 and "weighings"."width_mm" > 0 and "weighings"."height_mm" > 0)
);
--> statement-breakpoint
ALTER TABLE "anodes" ADD CONSTRAINT "anodes_organisation_id_boat_id_position_id_positions_organisation_id_boat_id_id_fk" FOREIGN KEY ("organisation_id","boat_id","position_id") REFERENCES "public"."positions"("organisation_id","boat_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "positions" ADD CONSTRAINT "positions_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "berths" ADD CONSTRAINT "berths_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "berths" ADD CONSTRAINT "berths_organisation_id_pontoon_id_pontoons_organisation_id_id_fk" FOREIGN KEY ("organisation_id","pontoon_id") REFERENCES "public"."pontoons"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "pontoons" ADD CONSTRAINT "pontoons_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stays" ADD CONSTRAINT "stays_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stays" ADD CONSTRAINT "stays_organisation_id_berth_id_berths_organisation_id_id_fk" FOREIGN KEY ("organisation_id","berth_id") REFERENCES "public"."berths"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "boats" ADD CONSTRAINT "boats_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "boats" ADD CONSTRAINT "boats_organisation_id_owner_id_owners_organisation_id_id_fk" FOREIGN KEY ("organisation_id","owner_id") REFERENCES "public"."owners"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "fittings" ADD CONSTRAINT "fittings_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "owners" ADD CONSTRAINT "owners_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_anode_id_anodes_organisation_id_id_fk" FOREIGN KEY ("organisation_id","anode_id") REFERENCES "public"."anodes"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_berth_id_berths_organisation_id_id_fk" FOREIGN KEY ("organisation_id","berth_id") REFERENCES "public"."berths"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_pontoon_id_pontoons_organisation_id_id_fk" FOREIGN KEY ("organisation_id","pontoon_id") REFERENCES "public"."pontoons"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "forecasts" ADD CONSTRAINT "forecasts_organisation_id_fit_id_model_fits_organisation_id_id_fk" FOREIGN KEY ("organisation_id","fit_id") REFERENCES "public"."model_fits"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "forecasts" ADD CONSTRAINT "forecasts_organisation_id_anode_id_anodes_organisation_id_id_fk" FOREIGN KEY ("organisation_id","anode_id") REFERENCES "public"."anodes"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "model_fits" ADD CONSTRAINT "model_fits_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "idempotency_keys" ADD CONSTRAINT "idempotency_keys_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "api_keys" ADD CONSTRAINT "api_keys_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "members" ADD CONSTRAINT "members_user_id_auth_users_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_users"("id") ON DELETE set null ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "members" ADD CONSTRAINT "members_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "photos" ADD CONSTRAINT "photos_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "photos" ADD CONSTRAINT "photos_organisation_id_weighing_id_weighings_organisation_id_id_fk" FOREIGN KEY ("organisation_id","weighing_id") REFERENCES "public"."weighings"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "photos" ADD CONSTRAINT "photos_organisation_id_haul_out_id_haul_outs_organisation_id_id_fk" FOREIGN KEY ("organisation_id","haul_out_id") REFERENCES "public"."haul_outs"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "continuity_readings" ADD CONSTRAINT "continuity_readings_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "potentials" ADD CONSTRAINT "potentials_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "potentials" ADD CONSTRAINT "potentials_organisation_id_fitting_id_fittings_organisation_id_id_fk" FOREIGN KEY ("organisation_id","fitting_id") REFERENCES "public"."fittings"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "auth_accounts" ADD CONSTRAINT "auth_accounts_user_id_auth_users_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_users"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "auth_sessions" ADD CONSTRAINT "auth_sessions_user_id_auth_users_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_users"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "haul_outs" ADD CONSTRAINT "haul_outs_organisation_id_boat_id_boats_organisation_id_id_fk" FOREIGN KEY ("organisation_id","boat_id") REFERENCES "public"."boats"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "weighings" ADD CONSTRAINT "weighings_organisation_id_anode_id_anodes_organisation_id_id_fk" FOREIGN KEY ("organisation_id","anode_id") REFERENCES "public"."anodes"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "weighings" ADD CONSTRAINT "weighings_organisation_id_haul_out_id_haul_outs_organisation_id_id_fk" FOREIGN KEY ("organisation_id","haul_out_id") REFERENCES "public"."haul_outs"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "anodes_position" ON "anodes" USING btree ("organisation_id","position_id");--> statement-breakpoint
CREATE INDEX "stays_berth" ON "stays" USING btree ("organisation_id","berth_id");--> statement-breakpoint
CREATE INDEX "boats_owner" ON "boats" USING btree ("organisation_id","owner_id");--> statement-breakpoint
CREATE INDEX "owners_email" ON "owners" USING btree ("organisation_id",lower("email"));--> statement-breakpoint
CREATE INDEX "findings_state" ON "findings" USING btree ("organisation_id","state");--> statement-breakpoint
CREATE INDEX "forecasts_fit" ON "forecasts" USING btree ("organisation_id","fit_id");--> statement-breakpoint
CREATE INDEX "model_fits_newest" ON "model_fits" USING btree ("organisation_id","fitted_at");--> statement-breakpoint
CREATE INDEX "audit_entries_row" ON "audit_entries" USING btree ("organisation_id","row_id");--> statement-breakpoint
CREATE INDEX "idempotency_keys_age" ON "idempotency_keys" USING btree ("created_at");--> statement-breakpoint
CREATE INDEX "jobs_state" ON "jobs" USING btree ("organisation_id","state");--> statement-breakpoint
CREATE INDEX "photos_boat" ON "photos" USING btree ("organisation_id","boat_id");--> statement-breakpoint
CREATE INDEX "photos_weighing" ON "photos" USING btree ("organisation_id","weighing_id");--> statement-breakpoint
CREATE INDEX "photos_haul_out" ON "photos" USING btree ("organisation_id","haul_out_id");--> statement-breakpoint
CREATE INDEX "auth_accounts_user" ON "auth_accounts" USING btree ("user_id");--> statement-breakpoint
CREATE INDEX "auth_sessions_user" ON "auth_sessions" USING btree ("user_id");--> statement-breakpoint
CREATE INDEX "auth_verifications_identifier" ON "auth_verifications" USING btree ("identifier");--> statement-breakpoint
CREATE INDEX "weighings_haul_out" ON "weighings" USING btree ("organisation_id","haul_out_id");