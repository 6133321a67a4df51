ALTER TABLE "forecasts" ADD COLUMN "outlook" jsonb NOT NULL;--> statement-breakpoint
ALTER TABLE "jobs" ADD COLUMN "heartbeat_at" timestamp with time zone;