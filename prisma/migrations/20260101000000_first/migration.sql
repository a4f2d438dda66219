-- CreateTable
CREATE TABLE "Team" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "updatedAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Song" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "tune" TEXT,
    "key" TEXT NOT NULL,
    "score" TEXT NOT NULL,
    "warnings" TEXT NOT NULL,
    "sourceFormat" TEXT NOT NULL,
    "source" BLOB NOT NULL,
    "tuneIndex" INTEGER NOT NULL,
    "answeredKey" TEXT,
    "corrections" TEXT NOT NULL DEFAULT '[]',
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "updatedAt" DATETIME NOT NULL,
    "deletedAt" DATETIME,
    CONSTRAINT "Song_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Member" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "roles" TEXT NOT NULL,
    "level" TEXT NOT NULL,
    "reach" INTEGER NOT NULL,
    "comfortableLow" TEXT,
    "comfortableHigh" TEXT,
    "limitLow" TEXT,
    "limitHigh" TEXT,
    "child" BOOLEAN NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "updatedAt" DATETIME NOT NULL,
    "deletedAt" DATETIME,
    CONSTRAINT "Member_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Arrangement" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "songId" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "tempo" TEXT,
    "density" TEXT NOT NULL,
    "leadId" TEXT,
    "playerId" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "updatedAt" DATETIME NOT NULL,
    CONSTRAINT "Arrangement_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Arrangement_teamId_songId_fkey" FOREIGN KEY ("teamId", "songId") REFERENCES "Song" ("teamId", "id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Arrangement_teamId_leadId_fkey" FOREIGN KEY ("teamId", "leadId") REFERENCES "Member" ("teamId", "id") ON DELETE NO ACTION ON UPDATE NO ACTION,
    CONSTRAINT "Arrangement_teamId_playerId_fkey" FOREIGN KEY ("teamId", "playerId") REFERENCES "Member" ("teamId", "id") ON DELETE NO ACTION ON UPDATE NO ACTION
);

-- CreateTable
CREATE TABLE "ArrangementSinger" (
    "teamId" TEXT NOT NULL,
    "arrangementId" TEXT NOT NULL,
    "memberId" TEXT NOT NULL,
    "position" INTEGER NOT NULL,

    PRIMARY KEY ("arrangementId", "memberId"),
    CONSTRAINT "ArrangementSinger_teamId_arrangementId_fkey" FOREIGN KEY ("teamId", "arrangementId") REFERENCES "Arrangement" ("teamId", "id") ON DELETE CASCADE ON UPDATE CASCADE,
    CONSTRAINT "ArrangementSinger_teamId_memberId_fkey" FOREIGN KEY ("teamId", "memberId") REFERENCES "Member" ("teamId", "id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "Song_teamId_deletedAt_title_idx" ON "Song"("teamId", "deletedAt", "title");

-- CreateIndex
CREATE UNIQUE INDEX "Song_teamId_id_key" ON "Song"("teamId", "id");

-- CreateIndex
CREATE INDEX "Member_teamId_deletedAt_name_idx" ON "Member"("teamId", "deletedAt", "name");

-- CreateIndex
CREATE UNIQUE INDEX "Member_teamId_id_key" ON "Member"("teamId", "id");

-- CreateIndex
CREATE UNIQUE INDEX "Arrangement_teamId_songId_key" ON "Arrangement"("teamId", "songId");

-- CreateIndex
CREATE UNIQUE INDEX "Arrangement_teamId_id_key" ON "Arrangement"("teamId", "id");

-- CreateIndex
CREATE INDEX "ArrangementSinger_teamId_memberId_idx" ON "ArrangementSinger"("teamId", "memberId");
