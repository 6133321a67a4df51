ALTER TABLE "forecasts" ADD COLUMN "hindsight" boolean DEFAULT false NOT NULL;--> statement-breakpoint
ALTER TABLE "model_fits" ADD COLUMN "hindsight" boolean DEFAULT false NOT NULL;