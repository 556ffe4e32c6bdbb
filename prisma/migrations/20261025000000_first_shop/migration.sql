-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateTable
CREATE TABLE "shop" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "country" CHAR(2) NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "weekStartsOn" INTEGER NOT NULL,
    "leaseMin" INTEGER NOT NULL,
    "leaseAskMin" INTEGER NOT NULL,
    "helperTestOpens" BOOLEAN NOT NULL,
    "partnersSeeHours" BOOLEAN NOT NULL,
    "tabletRecheckMin" INTEGER NOT NULL,
    "leadBanYear" INTEGER NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "shop_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "member" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "markLetter" TEXT NOT NULL,
    "markOutline" TEXT NOT NULL,
    "roleSpans" JSONB NOT NULL,
    "skills" TEXT[],
    "seesOffice" BOOLEAN NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "member_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "invitation" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "forName" TEXT NOT NULL,
    "secretSha256" CHAR(64) NOT NULL,
    "expiresAt" BIGINT NOT NULL,
    "usedBy" UUID,
    "withdrawnAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "invitation_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "board" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "closedOn" TEXT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "board_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "room" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "uses" TEXT[],
    "usualCelsius" DECIMAL(4,1) NOT NULL,
    "usualHumidityPercent" DECIMAL(4,1) NOT NULL,
    "gapLimitMin" INTEGER NOT NULL,
    "racks" JSONB NOT NULL,
    "hasOpenFlame" BOOLEAN NOT NULL,
    "closedAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "room_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "reading" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "roomId" UUID NOT NULL,
    "at" BIGINT NOT NULL,
    "airCelsius" DECIMAL(4,1) NOT NULL,
    "humidityPercent" DECIMAL(4,1) NOT NULL,
    "surfaceCelsius" DECIMAL(4,1),
    "spanFromAt" BIGINT,
    "source" TEXT NOT NULL,
    "importId" UUID,
    "retractedAt" BIGINT,
    "retractedWhy" TEXT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "reading_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "product" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "family" TEXT NOT NULL,
    "colour" TEXT,
    "retiredAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "product_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "sheet" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "productId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "origin" TEXT NOT NULL,
    "mechanism" TEXT NOT NULL,
    "referenceCelsius" DECIMAL(4,1) NOT NULL,
    "referenceHumidityPercent" DECIMAL(4,1) NOT NULL,
    "minimumCelsius" DECIMAL(4,1) NOT NULL,
    "maximumCelsius" DECIMAL(4,1) NOT NULL,
    "humidityLimitPercent" DECIMAL(4,1),
    "dewSpreadCelsius" DECIMAL(4,1) NOT NULL,
    "setToTouch" JSONB,
    "tackFree" JSONB,
    "recoatOpens" JSONB,
    "recoatClosesMin" INTEGER,
    "recoatReopensMin" INTEGER,
    "handle" JSONB,
    "lightUse" JSONB,
    "pressTogether" JSONB,
    "stackWith" JSONB NOT NULL,
    "wrap" JSONB NOT NULL,
    "fullCure" JSONB,
    "wipeFromMin" INTEGER,
    "wipeLatestMin" INTEGER,
    "scuffAlways" BOOLEAN NOT NULL,
    "isOilBearing" TEXT NOT NULL,
    "volumeSolidsPercent" DECIMAL(4,1),
    "wetFilmMicrometres" INTEGER,
    "over" JSONB NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "sheet_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "piece" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "boardId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "partCount" INTEGER NOT NULL,
    "widthMillimetres" INTEGER,
    "depthMillimetres" INTEGER,
    "heightMillimetres" INTEGER,
    "wood" TEXT,
    "stage" TEXT NOT NULL,
    "stageSinceAt" BIGINT NOT NULL,
    "roomId" UUID NOT NULL,
    "rackId" UUID,
    "acquiredOn" TEXT NOT NULL,
    "isPainted" TEXT NOT NULL,
    "madeYear" INTEGER,
    "treatAsLead" JSONB,
    "estimateMin" INTEGER,
    "archivedAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "piece_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "surface" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "squareDecimetres" INTEGER NOT NULL,
    "wood" TEXT,
    "substrate" TEXT NOT NULL,
    "veneerMicrometres" INTEGER,
    "isPaleWanted" BOOLEAN NOT NULL,
    "bleedRisk" TEXT NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "surface_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "pair" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "surfaceA" UUID NOT NULL,
    "surfaceB" UUID NOT NULL,
    "sort" TEXT NOT NULL,
    "isApart" BOOLEAN NOT NULL,
    "spacer" TEXT NOT NULL,
    "changedAt" BIGINT NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "pair_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "promise" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "sort" TEXT NOT NULL,
    "dueAt" BIGINT NOT NULL,
    "isWholeDay" BOOLEAN NOT NULL,
    "toWhom" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "movedTo" UUID,
    "why" TEXT,
    "isKnowinglyEarly" BOOLEAN NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "promise_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "roomStay" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "roomId" UUID NOT NULL,
    "rackId" UUID,
    "fromAt" BIGINT NOT NULL,
    "toAt" BIGINT,
    "how" TEXT NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "roomStay_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "stageMove" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "from" TEXT NOT NULL,
    "to" TEXT NOT NULL,
    "happenedAt" BIGINT NOT NULL,
    "by" UUID NOT NULL,
    "reason" TEXT,
    "why" TEXT,
    "evidence" JSONB,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "stageMove_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "passedOver" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "intentId" UUID NOT NULL,
    "by" UUID NOT NULL,
    "at" BIGINT NOT NULL,
    "evidence" JSONB NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "passedOver_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "coat" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "surfaceId" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "sheetId" UUID NOT NULL,
    "state" TEXT NOT NULL,
    "plannedWetFilmMicrometres" INTEGER,
    "applied" JSONB,
    "wiped" JSONB,
    "flaw" JSONB,
    "removed" JSONB,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "coat_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "test" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "subject" JSONB NOT NULL,
    "kind" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    "by" UUID NOT NULL,
    "result" TEXT NOT NULL,
    "note" TEXT,
    "takenBackAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "test_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "task" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID,
    "title" TEXT NOT NULL,
    "sort" TEXT NOT NULL,
    "methods" TEXT[],
    "surfaceIds" UUID[],
    "coatId" UUID,
    "needsSkills" TEXT[],
    "needsMembers" INTEGER NOT NULL,
    "after" UUID[],
    "waitsMin" INTEGER,
    "estimateMin" INTEGER,
    "dueAt" BIGINT,
    "state" TEXT NOT NULL,
    "finished" JSONB,
    "setAsideWhy" TEXT,
    "reworkCause" TEXT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "task_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "claim" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "taskId" UUID NOT NULL,
    "pieceId" UUID,
    "memberIds" UUID[],
    "claimedAt" BIGINT NOT NULL,
    "claimedSeq" INTEGER NOT NULL,
    "lastSignAt" BIGINT NOT NULL,
    "endedAt" BIGINT,
    "ending" TEXT,
    "note" TEXT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "claim_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "entry" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "memberId" UUID NOT NULL,
    "startedAt" BIGINT NOT NULL,
    "endedAt" BIGINT,
    "restMin" INTEGER NOT NULL,
    "workKind" TEXT NOT NULL,
    "subjects" JSONB NOT NULL,
    "splitRule" TEXT NOT NULL,
    "sessionId" UUID,
    "source" TEXT NOT NULL,
    "needsWord" TEXT,
    "note" TEXT,
    "struckAt" BIGINT,
    "versions" JSONB NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "entry_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "notice" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "memberId" UUID NOT NULL,
    "about" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    "pieceId" UUID,
    "taskId" UUID,
    "byMemberId" UUID,
    "detail" JSONB,
    "seenAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "notice_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "ledgerHead" (
    "shopId" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "recordedAt" BIGINT NOT NULL,

    CONSTRAINT "ledgerHead_pkey" PRIMARY KEY ("shopId")
);

-- CreateTable
CREATE TABLE "ledgerEntry" (
    "shopId" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "intentId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "verdict" TEXT NOT NULL,
    "memberId" UUID,
    "deviceId" UUID,
    "deviceAt" BIGINT,
    "offsetMs" BIGINT,
    "madeAt" BIGINT NOT NULL,
    "happenedAt" BIGINT NOT NULL,
    "recordedAt" BIGINT NOT NULL,
    "why" TEXT,
    "pieceIds" UUID[],
    "events" JSONB NOT NULL,

    CONSTRAINT "ledgerEntry_pkey" PRIMARY KEY ("shopId","seq")
);

-- CreateTable
CREATE TABLE "ruling" (
    "shopId" UUID NOT NULL,
    "intentId" UUID NOT NULL,
    "bodySha256" CHAR(64) NOT NULL,
    "kind" TEXT NOT NULL,
    "memberId" UUID,
    "deviceId" UUID,
    "verdict" TEXT NOT NULL,
    "refusal" JSONB,
    "seq" INTEGER,
    "recordedAt" BIGINT NOT NULL,
    "unmadeIds" UUID[],

    CONSTRAINT "ruling_pkey" PRIMARY KEY ("shopId","intentId")
);

-- CreateTable
CREATE TABLE "account" (
    "id" UUID NOT NULL,
    "signInName" TEXT NOT NULL,
    "passwordHash" TEXT NOT NULL,
    "failedCount" INTEGER NOT NULL DEFAULT 0,
    "lockedUntil" BIGINT,
    "createdAt" BIGINT NOT NULL,

    CONSTRAINT "account_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "seat" (
    "accountId" UUID NOT NULL,
    "shopId" UUID NOT NULL,
    "memberId" UUID NOT NULL,

    CONSTRAINT "seat_pkey" PRIMARY KEY ("shopId","memberId")
);

-- CreateTable
CREATE TABLE "session" (
    "id" UUID NOT NULL,
    "accountId" UUID,
    "shopId" UUID NOT NULL,
    "memberId" UUID,
    "deviceId" UUID NOT NULL,
    "isSharedTablet" BOOLEAN NOT NULL,
    "createdAt" BIGINT NOT NULL,
    "expiresAt" BIGINT NOT NULL,
    "endedAt" BIGINT,
    "endedWhy" TEXT,

    CONSTRAINT "session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "device" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "memberId" UUID,
    "name" TEXT NOT NULL,
    "offsetMs" BIGINT,
    "offsetUncertainMs" BIGINT,
    "offsetMeasuredAt" BIGINT,
    "lastHeardAt" BIGINT NOT NULL,

    CONSTRAINT "device_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "deviceQueue" (
    "shopId" UUID NOT NULL,
    "deviceId" UUID NOT NULL,
    "memberId" UUID NOT NULL,
    "lastDeviceSeq" INTEGER NOT NULL,
    "lastMadeAt" BIGINT,

    CONSTRAINT "deviceQueue_pkey" PRIMARY KEY ("shopId","deviceId","memberId")
);

-- CreateTable
CREATE TABLE "oneTimeLink" (
    "id" UUID NOT NULL,
    "sort" TEXT NOT NULL,
    "secretSha256" CHAR(64) NOT NULL,
    "createdAt" BIGINT NOT NULL,
    "expiresAt" BIGINT NOT NULL,
    "usedAt" BIGINT,
    "shopId" UUID,
    "accountId" UUID,

    CONSTRAINT "oneTimeLink_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sharedDocument" (
    "id" UUID NOT NULL,
    "shopId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "epoch" INTEGER NOT NULL DEFAULT 1,
    "lastSeq" INTEGER NOT NULL DEFAULT 0,
    "snapshotSeq" INTEGER NOT NULL DEFAULT 0,
    "snapshot" BYTEA,
    "bytes" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "sharedDocument_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "documentUpdate" (
    "documentId" UUID NOT NULL,
    "epoch" INTEGER NOT NULL,
    "seq" INTEGER NOT NULL,
    "update" BYTEA NOT NULL,
    "memberId" UUID,
    "at" BIGINT NOT NULL,

    CONSTRAINT "documentUpdate_pkey" PRIMARY KEY ("documentId","epoch","seq")
);

-- CreateIndex
CREATE UNIQUE INDEX "shop_shopId_key" ON "shop"("shopId");

-- CreateIndex
CREATE UNIQUE INDEX "invitation_secretSha256_key" ON "invitation"("secretSha256");

-- CreateIndex
CREATE INDEX "reading_shopId_roomId_at_idx" ON "reading"("shopId", "roomId", "at");

-- CreateIndex
CREATE INDEX "reading_shopId_importId_idx" ON "reading"("shopId", "importId");

-- CreateIndex
CREATE UNIQUE INDEX "sheet_shopId_productId_version_key" ON "sheet"("shopId", "productId", "version");

-- CreateIndex
CREATE INDEX "piece_shopId_boardId_idx" ON "piece"("shopId", "boardId");

-- CreateIndex
CREATE INDEX "piece_shopId_roomId_idx" ON "piece"("shopId", "roomId");

-- CreateIndex
CREATE UNIQUE INDEX "piece_shopId_number_key" ON "piece"("shopId", "number");

-- CreateIndex
CREATE INDEX "surface_shopId_pieceId_idx" ON "surface"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "pair_shopId_pieceId_idx" ON "pair"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "promise_shopId_pieceId_idx" ON "promise"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "roomStay_shopId_pieceId_idx" ON "roomStay"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "stageMove_shopId_pieceId_idx" ON "stageMove"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "passedOver_shopId_pieceId_idx" ON "passedOver"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "coat_shopId_pieceId_idx" ON "coat"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "coat_shopId_sheetId_idx" ON "coat"("shopId", "sheetId");

-- CreateIndex
CREATE INDEX "test_shopId_pieceId_idx" ON "test"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "task_shopId_pieceId_idx" ON "task"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "claim_shopId_taskId_idx" ON "claim"("shopId", "taskId");

-- CreateIndex
CREATE INDEX "claim_shopId_pieceId_idx" ON "claim"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "entry_shopId_memberId_endedAt_idx" ON "entry"("shopId", "memberId", "endedAt");

-- CreateIndex
CREATE INDEX "notice_shopId_memberId_at_idx" ON "notice"("shopId", "memberId", "at");

-- CreateIndex
CREATE INDEX "ledgerEntry_pieceIds_idx" ON "ledgerEntry" USING GIN ("pieceIds");

-- CreateIndex
CREATE UNIQUE INDEX "ledgerEntry_shopId_intentId_key" ON "ledgerEntry"("shopId", "intentId");

-- CreateIndex
CREATE INDEX "ruling_shopId_deviceId_idx" ON "ruling"("shopId", "deviceId");

-- CreateIndex
CREATE UNIQUE INDEX "account_signInName_key" ON "account"("signInName");

-- CreateIndex
CREATE INDEX "seat_accountId_idx" ON "seat"("accountId");

-- CreateIndex
CREATE INDEX "session_shopId_memberId_idx" ON "session"("shopId", "memberId");

-- CreateIndex
CREATE INDEX "session_shopId_deviceId_idx" ON "session"("shopId", "deviceId");

-- CreateIndex
CREATE INDEX "session_accountId_idx" ON "session"("accountId");

-- CreateIndex
CREATE UNIQUE INDEX "oneTimeLink_secretSha256_key" ON "oneTimeLink"("secretSha256");

-- CreateIndex
CREATE UNIQUE INDEX "sharedDocument_shopId_kind_subjectId_key" ON "sharedDocument"("shopId", "kind", "subjectId");

-- AddForeignKey
ALTER TABLE "member" ADD CONSTRAINT "member_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_shopId_usedBy_fkey" FOREIGN KEY ("shopId", "usedBy") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "board" ADD CONSTRAINT "board_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "room" ADD CONSTRAINT "room_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_shopId_roomId_fkey" FOREIGN KEY ("shopId", "roomId") REFERENCES "room"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "product" ADD CONSTRAINT "product_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sheet" ADD CONSTRAINT "sheet_shopId_productId_fkey" FOREIGN KEY ("shopId", "productId") REFERENCES "product"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "piece" ADD CONSTRAINT "piece_shopId_boardId_fkey" FOREIGN KEY ("shopId", "boardId") REFERENCES "board"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "piece" ADD CONSTRAINT "piece_shopId_roomId_fkey" FOREIGN KEY ("shopId", "roomId") REFERENCES "room"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "surface" ADD CONSTRAINT "surface_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "pair" ADD CONSTRAINT "pair_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "pair" ADD CONSTRAINT "pair_shopId_surfaceA_fkey" FOREIGN KEY ("shopId", "surfaceA") REFERENCES "surface"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "pair" ADD CONSTRAINT "pair_shopId_surfaceB_fkey" FOREIGN KEY ("shopId", "surfaceB") REFERENCES "surface"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "promise" ADD CONSTRAINT "promise_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "promise" ADD CONSTRAINT "promise_shopId_movedTo_fkey" FOREIGN KEY ("shopId", "movedTo") REFERENCES "promise"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "roomStay" ADD CONSTRAINT "roomStay_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "roomStay" ADD CONSTRAINT "roomStay_shopId_roomId_fkey" FOREIGN KEY ("shopId", "roomId") REFERENCES "room"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stageMove" ADD CONSTRAINT "stageMove_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stageMove" ADD CONSTRAINT "stageMove_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "passedOver" ADD CONSTRAINT "passedOver_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "passedOver" ADD CONSTRAINT "passedOver_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "coat" ADD CONSTRAINT "coat_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "coat" ADD CONSTRAINT "coat_shopId_surfaceId_fkey" FOREIGN KEY ("shopId", "surfaceId") REFERENCES "surface"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "coat" ADD CONSTRAINT "coat_shopId_sheetId_fkey" FOREIGN KEY ("shopId", "sheetId") REFERENCES "sheet"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "test" ADD CONSTRAINT "test_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "test" ADD CONSTRAINT "test_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "task" ADD CONSTRAINT "task_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "task" ADD CONSTRAINT "task_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "task" ADD CONSTRAINT "task_shopId_coatId_fkey" FOREIGN KEY ("shopId", "coatId") REFERENCES "coat"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_shopId_taskId_fkey" FOREIGN KEY ("shopId", "taskId") REFERENCES "task"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "entry" ADD CONSTRAINT "entry_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "notice" ADD CONSTRAINT "notice_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "notice" ADD CONSTRAINT "notice_shopId_byMemberId_fkey" FOREIGN KEY ("shopId", "byMemberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "notice" ADD CONSTRAINT "notice_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "notice" ADD CONSTRAINT "notice_shopId_taskId_fkey" FOREIGN KEY ("shopId", "taskId") REFERENCES "task"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledgerHead" ADD CONSTRAINT "ledgerHead_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "seat" ADD CONSTRAINT "seat_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "seat" ADD CONSTRAINT "seat_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_shopId_deviceId_fkey" FOREIGN KEY ("shopId", "deviceId") REFERENCES "device"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "device" ADD CONSTRAINT "device_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "device" ADD CONSTRAINT "device_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deviceQueue" ADD CONSTRAINT "deviceQueue_shopId_deviceId_fkey" FOREIGN KEY ("shopId", "deviceId") REFERENCES "device"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deviceQueue" ADD CONSTRAINT "deviceQueue_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "oneTimeLink" ADD CONSTRAINT "oneTimeLink_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "oneTimeLink" ADD CONSTRAINT "oneTimeLink_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sharedDocument" ADD CONSTRAINT "sharedDocument_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "shop"("shopId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "documentUpdate" ADD CONSTRAINT "documentUpdate_documentId_fkey" FOREIGN KEY ("documentId") REFERENCES "sharedDocument"("id") ON DELETE RESTRICT ON UPDATE CASCADE;



-- ---------------------------------------------------------------------------------------------------------------------
-- By hand from here on: what Prisma's schema language has no words for. Prisma neither sees nor drops these.

-- A promise that is moved names the new one, which may be written after it.
ALTER TABLE "promise" ALTER CONSTRAINT "promise_shopId_movedTo_fkey" DEFERRABLE INITIALLY DEFERRED;

-- Only one at a time.
CREATE UNIQUE INDEX "claim_one_live_per_task" ON "claim" ("shopId", "taskId") WHERE "endedAt" IS NULL;
CREATE UNIQUE INDEX "entry_one_running_per_member" ON "entry" ("shopId", "memberId")
  WHERE "endedAt" IS NULL AND "struckAt" IS NULL;
CREATE UNIQUE INDEX "promise_one_live_per_sort" ON "promise" ("shopId", "pieceId", "sort") WHERE "state" = 'made';
CREATE UNIQUE INDEX "reading_one_per_source" ON "reading" ("shopId", "roomId", "at", "source")
  WHERE "retractedAt" IS NULL;
CREATE UNIQUE INDEX "roomStay_one_open_per_piece" ON "roomStay" ("shopId", "pieceId") WHERE "toAt" IS NULL;
CREATE UNIQUE INDEX "pair_once_per_set" ON "pair"
  ("shopId", LEAST("surfaceA", "surfaceB"), GREATEST("surfaceA", "surfaceB"));

-- What cannot be, whoever writes it. The bounds are those of src/core/units.ts.
ALTER TABLE "shop"
  ADD CONSTRAINT "shop_is_its_own" CHECK ("shopId" = "id"),
  ADD CONSTRAINT "shop_week_start" CHECK ("weekStartsOn" BETWEEN 1 AND 7),
  ADD CONSTRAINT "shop_lease" CHECK ("leaseMin" > 0 AND "leaseAskMin" >= 0 AND "tabletRecheckMin" > 0);
ALTER TABLE "board"
  ADD CONSTRAINT "board_closed_day" CHECK ("closedOn" ~ '^\d{4}-\d{2}-\d{2}$');
ALTER TABLE "room"
  ADD CONSTRAINT "room_air" CHECK ("usualCelsius" BETWEEN -40 AND 60 AND "usualHumidityPercent" BETWEEN 1 AND 100),
  ADD CONSTRAINT "room_gap" CHECK ("gapLimitMin" BETWEEN 30 AND 1440);
ALTER TABLE "reading"
  ADD CONSTRAINT "reading_air" CHECK ("airCelsius" BETWEEN -40 AND 60),
  ADD CONSTRAINT "reading_humidity" CHECK ("humidityPercent" BETWEEN 1 AND 100),
  ADD CONSTRAINT "reading_surface" CHECK ("surfaceCelsius" BETWEEN -40 AND 60),
  ADD CONSTRAINT "reading_span" CHECK ("spanFromAt" <= "at");
ALTER TABLE "sheet"
  ADD CONSTRAINT "sheet_version" CHECK ("version" >= 1),
  ADD CONSTRAINT "sheet_air" CHECK (
    "referenceCelsius" BETWEEN -40 AND 60 AND "minimumCelsius" BETWEEN -40 AND 60 AND "maximumCelsius" BETWEEN -40 AND 60
    AND "referenceHumidityPercent" BETWEEN 1 AND 100 AND "humidityLimitPercent" BETWEEN 1 AND 100),
  ADD CONSTRAINT "sheet_durations" CHECK (
    "recoatClosesMin" > 0 AND "recoatReopensMin" > 0 AND "wipeFromMin" > 0 AND "wipeLatestMin" > 0),
  ADD CONSTRAINT "sheet_film" CHECK ("volumeSolidsPercent" BETWEEN 1 AND 100 AND "wetFilmMicrometres" > 0);
ALTER TABLE "piece"
  ADD CONSTRAINT "piece_acquired_day" CHECK ("acquiredOn" ~ '^\d{4}-\d{2}-\d{2}$'),
  ADD CONSTRAINT "piece_parts" CHECK ("partCount" BETWEEN 1 AND 24),
  ADD CONSTRAINT "piece_lengths" CHECK ("widthMillimetres" > 0 AND "depthMillimetres" > 0 AND "heightMillimetres" > 0),
  ADD CONSTRAINT "piece_estimate" CHECK ("estimateMin" > 0);
ALTER TABLE "surface"
  ADD CONSTRAINT "surface_area" CHECK ("squareDecimetres" > 0),
  ADD CONSTRAINT "surface_veneer" CHECK ("veneerMicrometres" > 0);
ALTER TABLE "pair"
  ADD CONSTRAINT "pair_of_two" CHECK ("surfaceA" <> "surfaceB");
ALTER TABLE "roomStay"
  ADD CONSTRAINT "roomStay_order" CHECK ("toAt" >= "fromAt");
ALTER TABLE "coat"
  ADD CONSTRAINT "coat_position" CHECK ("position" BETWEEN 1 AND 40),
  ADD CONSTRAINT "coat_film" CHECK ("plannedWetFilmMicrometres" > 0),
  ADD CONSTRAINT "coat_order" CHECK (("applied" ->> 'endedAt')::bigint >= ("applied" ->> 'startedAt')::bigint);
ALTER TABLE "task"
  ADD CONSTRAINT "task_people" CHECK ("needsMembers" BETWEEN 1 AND 2),
  ADD CONSTRAINT "task_durations" CHECK ("waitsMin" > 0 AND "estimateMin" > 0);
ALTER TABLE "claim"
  ADD CONSTRAINT "claim_people" CHECK (cardinality("memberIds") BETWEEN 1 AND 2),
  ADD CONSTRAINT "claim_order" CHECK ("endedAt" >= "claimedAt"),
  ADD CONSTRAINT "claim_ending" CHECK (("endedAt" IS NULL) = ("ending" IS NULL));
ALTER TABLE "entry"
  ADD CONSTRAINT "entry_order" CHECK ("endedAt" > "startedAt"),
  ADD CONSTRAINT "entry_rest" CHECK ("restMin" BETWEEN 0 AND 480),
  ADD CONSTRAINT "entry_weights" CHECK (NOT "subjects" @? '$[*] ? (@.weight < 0)');
ALTER TABLE "ledgerHead"
  ADD CONSTRAINT "ledgerHead_seq" CHECK ("seq" >= 0);
ALTER TABLE "ledgerEntry"
  ADD CONSTRAINT "ledgerEntry_seq" CHECK ("seq" >= 1),
  ADD CONSTRAINT "ledgerEntry_verdict" CHECK ("verdict" IN ('accepted', 'refused'));
ALTER TABLE "ruling"
  ADD CONSTRAINT "ruling_verdict" CHECK ("verdict" IN ('accepted', 'refused')),
  ADD CONSTRAINT "ruling_reason" CHECK (("verdict" = 'refused') = ("refusal" IS NOT NULL));
ALTER TABLE "session"
  ADD CONSTRAINT "session_of_somebody" CHECK ("isSharedTablet" = ("memberId" IS NULL));
ALTER TABLE "oneTimeLink"
  ADD CONSTRAINT "oneTimeLink_sort" CHECK ("sort" IN ('founder', 'owner-reset'));
ALTER TABLE "sharedDocument"
  ADD CONSTRAINT "sharedDocument_kind" CHECK ("kind" IN ('floor', 'notes')),
  ADD CONSTRAINT "sharedDocument_snapshot" CHECK ("snapshotSeq" <= "lastSeq");

-- The ledger only grows.
CREATE FUNCTION "refuse_ledger_change"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'the ledger only grows: % is refused', TG_OP USING ERRCODE = 'restrict_violation';
END
$$;
CREATE TRIGGER "ledgerEntry_only_grows" BEFORE UPDATE OR DELETE ON "ledgerEntry"
  FOR EACH ROW EXECUTE FUNCTION "refuse_ledger_change"();
CREATE TRIGGER "ledgerEntry_never_emptied" BEFORE TRUNCATE ON "ledgerEntry"
  FOR EACH STATEMENT EXECUTE FUNCTION "refuse_ledger_change"();
