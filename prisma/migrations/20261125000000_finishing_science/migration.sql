-- AlterTable
ALTER TABLE "shop" ADD COLUMN     "chalkGraceMin" INTEGER,
ADD COLUMN     "likelyCap" DECIMAL(4,1),
ADD COLUMN     "stressedClampMin" INTEGER,
ADD COLUMN     "swabSuffices" BOOLEAN;

-- AlterTable
ALTER TABLE "product" ADD COLUMN     "isFactorOn" BOOLEAN,
ADD COLUMN     "observations" JSONB;

-- AlterTable
ALTER TABLE "sheet" ADD COLUMN     "activationKilojoules" DECIMAL(4,1),
ADD COLUMN     "chalkCelsius" DECIMAL(4,1),
ADD COLUMN     "clampMin" INTEGER,
ADD COLUMN     "densityGramsPerLitre" INTEGER,
ADD COLUMN     "fullStrengthMin" INTEGER,
ADD COLUMN     "hardenerPartsPerMille" INTEGER,
ADD COLUMN     "inductionMin" INTEGER,
ADD COLUMN     "openTimeMin" INTEGER,
ADD COLUMN     "potLifeMin" INTEGER,
ADD COLUMN     "rateRule" TEXT,
ADD COLUMN     "shelfOpenedDays" INTEGER,
ADD COLUMN     "shelfUnopenedDays" INTEGER,
ADD COLUMN     "solvent" TEXT,
ADD COLUMN     "spreadSquareMetresPerLitre" DECIMAL(4,1),
ADD COLUMN     "thinLimitPercent" INTEGER,
ADD COLUMN     "thinParts" JSONB,
ADD COLUMN     "thinner" TEXT,
ADD COLUMN     "vocGramsPerLitre" INTEGER;

-- AlterTable
ALTER TABLE "surface" ADD COLUMN     "lastWaterAt" BIGINT;

-- AlterTable
ALTER TABLE "coat" ADD COLUMN     "barrierWhy" TEXT;

-- AlterTable
ALTER TABLE "test" ADD COLUMN     "measured" JSONB,
ALTER COLUMN "pieceId" DROP NOT NULL;

-- AlterTable
ALTER TABLE "task" ADD COLUMN     "jointId" UUID;

-- CreateTable
CREATE TABLE "forecast" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "roomId" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "setAt" BIGINT NOT NULL,
    "setBy" UUID NOT NULL,
    "hours" JSONB NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "forecast_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "can" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "productId" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "filledMillilitres" INTEGER NOT NULL,
    "openedOn" TEXT,
    "isLabelled" BOOLEAN NOT NULL,
    "counted" JSONB,
    "dropTest" JSONB,
    "emptiedAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "can_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "mix" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "sheetId" UUID NOT NULL,
    "canIds" UUID[],
    "millilitres" INTEGER NOT NULL,
    "hardenerMillilitres" INTEGER,
    "thinnerMillilitres" INTEGER,
    "mixedAt" BIGINT NOT NULL,
    "by" UUID NOT NULL,
    "roomId" UUID NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "mix_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "joint" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "sheetId" UUID NOT NULL,
    "roomId" UUID NOT NULL,
    "gluedAt" BIGINT NOT NULL,
    "by" UUID NOT NULL,
    "squeeze" TEXT NOT NULL,
    "isStressed" BOOLEAN NOT NULL,
    "releasedAt" BIGINT,
    "verdict" JSONB,
    "evidence" JSONB,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "joint_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "confirmation" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "testId" UUID NOT NULL,
    "by" UUID NOT NULL,
    "at" BIGINT NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "confirmation_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "word" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "pieceId" UUID NOT NULL,
    "action" TEXT NOT NULL,
    "subjectId" UUID,
    "by" UUID NOT NULL,
    "at" BIGINT NOT NULL,
    "untilAt" BIGINT NOT NULL,
    "why" TEXT NOT NULL,
    "withdrawnAt" BIGINT,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "word_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "closing" (
    "shopId" UUID NOT NULL,
    "id" UUID NOT NULL,
    "day" TEXT NOT NULL,
    "closedBy" UUID NOT NULL,
    "at" BIGINT NOT NULL,
    "answers" JSONB NOT NULL,
    "createdBy" UUID,
    "createdSeq" INTEGER NOT NULL,
    "changedSeq" INTEGER NOT NULL,

    CONSTRAINT "closing_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateIndex
CREATE INDEX "forecast_shopId_roomId_idx" ON "forecast"("shopId", "roomId");

-- CreateIndex
CREATE INDEX "can_shopId_productId_idx" ON "can"("shopId", "productId");

-- CreateIndex
CREATE INDEX "mix_shopId_sheetId_idx" ON "mix"("shopId", "sheetId");

-- CreateIndex
CREATE INDEX "joint_shopId_pieceId_idx" ON "joint"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "confirmation_shopId_pieceId_idx" ON "confirmation"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "word_shopId_pieceId_idx" ON "word"("shopId", "pieceId");

-- CreateIndex
CREATE INDEX "closing_shopId_day_idx" ON "closing"("shopId", "day");

-- AddForeignKey
ALTER TABLE "forecast" ADD CONSTRAINT "forecast_shopId_roomId_fkey" FOREIGN KEY ("shopId", "roomId") REFERENCES "room"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "forecast" ADD CONSTRAINT "forecast_shopId_setBy_fkey" FOREIGN KEY ("shopId", "setBy") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "can" ADD CONSTRAINT "can_shopId_productId_fkey" FOREIGN KEY ("shopId", "productId") REFERENCES "product"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "mix" ADD CONSTRAINT "mix_shopId_sheetId_fkey" FOREIGN KEY ("shopId", "sheetId") REFERENCES "sheet"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "mix" ADD CONSTRAINT "mix_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "mix" ADD CONSTRAINT "mix_shopId_roomId_fkey" FOREIGN KEY ("shopId", "roomId") REFERENCES "room"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "joint" ADD CONSTRAINT "joint_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "joint" ADD CONSTRAINT "joint_shopId_sheetId_fkey" FOREIGN KEY ("shopId", "sheetId") REFERENCES "sheet"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "joint" ADD CONSTRAINT "joint_shopId_roomId_fkey" FOREIGN KEY ("shopId", "roomId") REFERENCES "room"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "joint" ADD CONSTRAINT "joint_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "confirmation" ADD CONSTRAINT "confirmation_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "confirmation" ADD CONSTRAINT "confirmation_shopId_testId_fkey" FOREIGN KEY ("shopId", "testId") REFERENCES "test"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "confirmation" ADD CONSTRAINT "confirmation_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "word" ADD CONSTRAINT "word_shopId_pieceId_fkey" FOREIGN KEY ("shopId", "pieceId") REFERENCES "piece"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "word" ADD CONSTRAINT "word_shopId_by_fkey" FOREIGN KEY ("shopId", "by") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "task" ADD CONSTRAINT "task_shopId_jointId_fkey" FOREIGN KEY ("shopId", "jointId") REFERENCES "joint"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "closing" ADD CONSTRAINT "closing_shopId_closedBy_fkey" FOREIGN KEY ("shopId", "closedBy") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;



-- What Prisma's language has no words for.
ALTER TABLE "shop"
  ADD CONSTRAINT "shop_cure_settings" CHECK ("likelyCap" BETWEEN 1 AND 2 AND "stressedClampMin" > 0 AND "chalkGraceMin" >= 0);
ALTER TABLE "sheet"
  ADD CONSTRAINT "sheet_mixing" CHECK (
    "hardenerPartsPerMille" > 0 AND "inductionMin" > 0 AND "potLifeMin" > 0 AND "thinLimitPercent" >= 0 AND "openTimeMin" > 0),
  ADD CONSTRAINT "sheet_glue" CHECK ("clampMin" > 0 AND "fullStrengthMin" > 0),
  ADD CONSTRAINT "sheet_shelf" CHECK ("shelfUnopenedDays" > 0 AND "shelfOpenedDays" > 0);
ALTER TABLE "can"
  ADD CONSTRAINT "can_filled" CHECK ("filledMillilitres" > 0),
  ADD CONSTRAINT "can_opened_day" CHECK ("openedOn" ~ '^\d{4}-\d{2}-\d{2}$');
ALTER TABLE "mix"
  ADD CONSTRAINT "mix_volume" CHECK ("millilitres" > 0 AND "hardenerMillilitres" >= 0 AND "thinnerMillilitres" >= 0);
ALTER TABLE "joint"
  ADD CONSTRAINT "joint_order" CHECK ("releasedAt" >= "gluedAt");
ALTER TABLE "word"
  ADD CONSTRAINT "word_order" CHECK ("untilAt" > "at");
ALTER TABLE "closing"
  ADD CONSTRAINT "closing_day" CHECK ("day" ~ '^\d{4}-\d{2}-\d{2}$');

-- One forecast a room and one closing a day: a later one is written over it.
CREATE UNIQUE INDEX "forecast_of_room" ON "forecast" ("shopId", "roomId");
CREATE UNIQUE INDEX "closing_of_day" ON "closing" ("shopId", "day");
