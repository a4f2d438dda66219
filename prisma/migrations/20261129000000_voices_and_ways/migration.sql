-- AlterTable
ALTER TABLE "Team" ADD COLUMN "congregation" TEXT;
ALTER TABLE "Team" ADD COLUMN "room" TEXT;

-- AlterTable
ALTER TABLE "Member" ADD COLUMN "rangeMarkedAt" DATETIME;

-- AlterTable
ALTER TABLE "ServiceItem" ADD COLUMN "wayOn" TEXT;
