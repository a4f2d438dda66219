-- AlterTable
ALTER TABLE "Service" ADD COLUMN "until" TEXT;
