CREATE TABLE "person_preferences" (
	"user_id" text PRIMARY KEY NOT NULL,
	"language" text,
	"mass_unit" text,
	"temperature_unit" text,
	"time_zone" text,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
ALTER TABLE "person_preferences" ADD CONSTRAINT "person_preferences_user_id_auth_users_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_users"("id") ON DELETE cascade ON UPDATE no action;