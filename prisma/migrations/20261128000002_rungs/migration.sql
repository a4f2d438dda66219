-- AlterTable
ALTER TABLE "ServiceItem" ADD COLUMN "rungs" TEXT NOT NULL DEFAULT '{}';
