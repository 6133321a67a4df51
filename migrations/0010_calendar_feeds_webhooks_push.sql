CREATE TABLE "calendar_entries" (
	"organisation_id" uuid NOT NULL,
	"feed_id" uuid NOT NULL,
	"uid" text NOT NULL,
	"sequence" integer DEFAULT 0 NOT NULL,
	"state" text NOT NULL,
	"content" jsonb NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"changed_at" timestamp with time zone NOT NULL,
	CONSTRAINT "calendar_entries_organisation_id_feed_id_uid_pk" PRIMARY KEY("organisation_id","feed_id","uid")
);
--> statement-breakpoint
CREATE TABLE "calendar_feeds" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"email" text NOT NULL,
	"scope" text NOT NULL,
	"language" text NOT NULL,
	"token_sha256" text NOT NULL,
	"link_made_at" timestamp with time zone NOT NULL,
	"last_read_at" timestamp with time zone,
	CONSTRAINT "calendar_feeds_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "calendar_feeds_token" UNIQUE("token_sha256"),
	CONSTRAINT "calendar_feeds_email_lower_case" CHECK ("calendar_feeds"."email" = lower("calendar_feeds"."email"))
);
--> statement-breakpoint
CREATE TABLE "push_subscriptions" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"user_id" text NOT NULL,
	"endpoint" text NOT NULL,
	"p256dh" text NOT NULL,
	"auth" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "push_subscriptions_endpoint_unique" UNIQUE("endpoint")
);
--> statement-breakpoint
CREATE TABLE "service_keys" (
	"name" text PRIMARY KEY NOT NULL,
	"value" jsonb NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "webhook_attempts" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"delivery_id" uuid NOT NULL,
	"number" bigint GENERATED ALWAYS AS IDENTITY (sequence name "webhook_attempts_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"at" timestamp with time zone NOT NULL,
	"duration_ms" integer NOT NULL,
	"answered" integer,
	"answer_start" text,
	"failure" text,
	CONSTRAINT "webhook_attempts_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "webhook_deliveries" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"webhook_id" uuid NOT NULL,
	"event_id" uuid NOT NULL,
	"state" text DEFAULT 'waiting' NOT NULL,
	"attempts" integer DEFAULT 0 NOT NULL,
	"next_attempt_at" timestamp with time zone DEFAULT now(),
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "webhook_deliveries_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "webhook_deliveries_waiting_for_something" CHECK (("webhook_deliveries"."state" = 'waiting') = ("webhook_deliveries"."next_attempt_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "webhook_events" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"event" text NOT NULL,
	"occurred_at" timestamp with time zone DEFAULT now() NOT NULL,
	"data" jsonb NOT NULL,
	CONSTRAINT "webhook_events_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "webhooks" (
	"organisation_id" uuid NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"name" text NOT NULL,
	"url" text NOT NULL,
	"events" text[] NOT NULL,
	"enabled" boolean DEFAULT true NOT NULL,
	"disabled_because" text,
	"secret" text NOT NULL,
	"previous_secret" text,
	"previous_secret_until" timestamp with time zone,
	"failing_since" timestamp with time zone,
	CONSTRAINT "webhooks_organisation_id_id_pk" PRIMARY KEY("organisation_id","id"),
	CONSTRAINT "webhooks_name_not_empty" CHECK (length(trim("webhooks"."name")) > 0),
	CONSTRAINT "webhooks_disabled_for_a_reason" CHECK ("webhooks"."enabled" = ("webhooks"."disabled_because" is null))
);
--> statement-breakpoint
ALTER TABLE "calendar_entries" ADD CONSTRAINT "calendar_entries_organisation_id_feed_id_calendar_feeds_organisation_id_id_fk" FOREIGN KEY ("organisation_id","feed_id") REFERENCES "public"."calendar_feeds"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "calendar_feeds" ADD CONSTRAINT "calendar_feeds_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "push_subscriptions" ADD CONSTRAINT "push_subscriptions_user_id_auth_users_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_users"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "webhook_attempts" ADD CONSTRAINT "webhook_attempts_organisation_id_delivery_id_webhook_deliveries_organisation_id_id_fk" FOREIGN KEY ("organisation_id","delivery_id") REFERENCES "public"."webhook_deliveries"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "webhook_deliveries" ADD CONSTRAINT "webhook_deliveries_organisation_id_webhook_id_webhooks_organisation_id_id_fk" FOREIGN KEY ("organisation_id","webhook_id") REFERENCES "public"."webhooks"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "webhook_deliveries" ADD CONSTRAINT "webhook_deliveries_organisation_id_event_id_webhook_events_organisation_id_id_fk" FOREIGN KEY ("organisation_id","event_id") REFERENCES "public"."webhook_events"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "webhook_events" ADD CONSTRAINT "webhook_events_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "webhooks" ADD CONSTRAINT "webhooks_organisation_id_organisations_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisations"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "calendar_feeds_person" ON "calendar_feeds" USING btree ("organisation_id","email");--> statement-breakpoint
CREATE INDEX "push_subscriptions_user" ON "push_subscriptions" USING btree ("user_id");--> statement-breakpoint
CREATE INDEX "webhook_attempts_delivery" ON "webhook_attempts" USING btree ("organisation_id","delivery_id");--> statement-breakpoint
CREATE INDEX "webhook_deliveries_due" ON "webhook_deliveries" USING btree ("next_attempt_at") WHERE "webhook_deliveries"."state" = 'waiting';--> statement-breakpoint
CREATE INDEX "webhook_deliveries_log" ON "webhook_deliveries" USING btree ("organisation_id","webhook_id","created_at");--> statement-breakpoint
CREATE INDEX "webhook_events_age" ON "webhook_events" USING btree ("occurred_at");--> statement-breakpoint
-- Changes by people are based on a version. What deliveries and readings note beside is no change of theirs; and since both tables hold
-- secrets, neither is in the audit trail.
CREATE TRIGGER webhooks_version BEFORE UPDATE OF name, url, events, enabled, secret ON webhooks FOR EACH ROW
  WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION raise_version();
--> statement-breakpoint
CREATE TRIGGER calendar_feeds_version BEFORE UPDATE OF token_sha256, language ON calendar_feeds FOR EACH ROW
  WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION raise_version();
