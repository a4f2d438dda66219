-- AlterTable
ALTER TABLE "Song" ADD COLUMN "draft" TEXT;

-- CreateIndex
CREATE UNIQUE INDEX "Song_teamId_draft_key" ON "Song"("teamId", "draft");
