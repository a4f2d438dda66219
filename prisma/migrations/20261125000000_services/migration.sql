-- AlterTable
ALTER TABLE "Arrangement" ADD COLUMN "form" TEXT;

-- CreateTable
CREATE TABLE "Service" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "time" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "updatedAt" DATETIME NOT NULL,
    "deletedAt" DATETIME,
    "demo" BOOLEAN NOT NULL DEFAULT false,
    CONSTRAINT "Service_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "ServiceItem" (
    "id" TEXT NOT NULL,
    "teamId" TEXT NOT NULL,
    "serviceId" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "minutes" INTEGER,
    "note" TEXT NOT NULL,
    "songId" TEXT,
    "key" TEXT,
    "leadId" TEXT,
    "form" TEXT,
    "playedIn" TEXT NOT NULL DEFAULT '{}',

    PRIMARY KEY ("serviceId", "id"),
    CONSTRAINT "ServiceItem_teamId_serviceId_fkey" FOREIGN KEY ("teamId", "serviceId") REFERENCES "Service" ("teamId", "id") ON DELETE CASCADE ON UPDATE CASCADE,
    CONSTRAINT "ServiceItem_teamId_songId_fkey" FOREIGN KEY ("teamId", "songId") REFERENCES "Song" ("teamId", "id") ON DELETE NO ACTION ON UPDATE NO ACTION,
    CONSTRAINT "ServiceItem_teamId_leadId_fkey" FOREIGN KEY ("teamId", "leadId") REFERENCES "Member" ("teamId", "id") ON DELETE NO ACTION ON UPDATE NO ACTION
);

-- CreateTable
CREATE TABLE "ServicePerson" (
    "teamId" TEXT NOT NULL,
    "serviceId" TEXT NOT NULL,
    "memberId" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "roles" TEXT NOT NULL,
    "voiceLow" TEXT,
    "voiceHigh" TEXT,

    PRIMARY KEY ("serviceId", "memberId"),
    CONSTRAINT "ServicePerson_teamId_serviceId_fkey" FOREIGN KEY ("teamId", "serviceId") REFERENCES "Service" ("teamId", "id") ON DELETE CASCADE ON UPDATE CASCADE,
    CONSTRAINT "ServicePerson_teamId_memberId_fkey" FOREIGN KEY ("teamId", "memberId") REFERENCES "Member" ("teamId", "id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "SetLink" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "serviceId" TEXT NOT NULL,
    "secretHash" TEXT NOT NULL,
    "marksRanges" BOOLEAN NOT NULL,
    "endsAt" DATETIME NOT NULL,
    "revokedAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "updatedAt" DATETIME NOT NULL,
    CONSTRAINT "SetLink_teamId_serviceId_fkey" FOREIGN KEY ("teamId", "serviceId") REFERENCES "Service" ("teamId", "id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "LeaderSession" (
    "secretHash" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "endsAt" DATETIME NOT NULL,
    CONSTRAINT "LeaderSession_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- Added to the tables that are there; nothing is copied, so that no row can be lost on the way.
ALTER TABLE "Team" ADD COLUMN "demo" TEXT;
ALTER TABLE "Team" ADD COLUMN "stamp" INTEGER NOT NULL DEFAULT 0;
ALTER TABLE "Team" ADD COLUMN "passphrase" TEXT;
ALTER TABLE "Song" ADD COLUMN "demo" BOOLEAN NOT NULL DEFAULT false;
ALTER TABLE "Member" ADD COLUMN "demo" BOOLEAN NOT NULL DEFAULT false;
ALTER TABLE "Member" ADD COLUMN "levels" TEXT NOT NULL DEFAULT '{}';
ALTER TABLE "Member" ADD COLUMN "instruments" TEXT NOT NULL DEFAULT '{}';

-- CreateIndex
CREATE INDEX "Service_teamId_deletedAt_date_idx" ON "Service"("teamId", "deletedAt", "date");

-- CreateIndex
CREATE UNIQUE INDEX "Service_teamId_id_key" ON "Service"("teamId", "id");

-- CreateIndex
CREATE INDEX "ServiceItem_teamId_serviceId_position_idx" ON "ServiceItem"("teamId", "serviceId", "position");

-- CreateIndex
CREATE INDEX "ServiceItem_teamId_songId_idx" ON "ServiceItem"("teamId", "songId");

-- CreateIndex
CREATE INDEX "ServicePerson_teamId_memberId_idx" ON "ServicePerson"("teamId", "memberId");

-- CreateIndex
CREATE INDEX "SetLink_teamId_serviceId_idx" ON "SetLink"("teamId", "serviceId");

-- CreateIndex
CREATE INDEX "LeaderSession_teamId_endsAt_idx" ON "LeaderSession"("teamId", "endsAt");


-- Every change of what a team has counts its stamp up, so that whatever was made of its rows knows when it is stale.
CREATE TRIGGER "Song_insert_stamp" AFTER INSERT ON "Song" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Song_update_stamp" AFTER UPDATE ON "Song" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Song_delete_stamp" AFTER DELETE ON "Song" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
CREATE TRIGGER "Member_insert_stamp" AFTER INSERT ON "Member" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Member_update_stamp" AFTER UPDATE ON "Member" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Member_delete_stamp" AFTER DELETE ON "Member" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
CREATE TRIGGER "Arrangement_insert_stamp" AFTER INSERT ON "Arrangement" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Arrangement_update_stamp" AFTER UPDATE ON "Arrangement" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Arrangement_delete_stamp" AFTER DELETE ON "Arrangement" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
CREATE TRIGGER "ArrangementSinger_insert_stamp" AFTER INSERT ON "ArrangementSinger" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "ArrangementSinger_update_stamp" AFTER UPDATE ON "ArrangementSinger" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "ArrangementSinger_delete_stamp" AFTER DELETE ON "ArrangementSinger" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
CREATE TRIGGER "Service_insert_stamp" AFTER INSERT ON "Service" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Service_update_stamp" AFTER UPDATE ON "Service" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "Service_delete_stamp" AFTER DELETE ON "Service" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
CREATE TRIGGER "ServiceItem_insert_stamp" AFTER INSERT ON "ServiceItem" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "ServiceItem_update_stamp" AFTER UPDATE ON "ServiceItem" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "ServiceItem_delete_stamp" AFTER DELETE ON "ServiceItem" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
CREATE TRIGGER "ServicePerson_insert_stamp" AFTER INSERT ON "ServicePerson" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "ServicePerson_update_stamp" AFTER UPDATE ON "ServicePerson" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = NEW."teamId";
END;
CREATE TRIGGER "ServicePerson_delete_stamp" AFTER DELETE ON "ServicePerson" BEGIN
    UPDATE "Team" SET "stamp" = "stamp" + 1 WHERE "id" = OLD."teamId";
END;
