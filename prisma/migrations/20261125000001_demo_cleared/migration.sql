-- What was hidden with the demo is known by this instant, and comes back together.
ALTER TABLE "Team" ADD COLUMN "demoClearedAt" DATETIME;
