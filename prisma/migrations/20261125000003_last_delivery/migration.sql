-- CreateTable
CREATE TABLE "deliveryPass" (
    "shopId" UUID NOT NULL,
    "deviceId" UUID NOT NULL,
    "memberId" UUID NOT NULL,
    "secretSha256" CHAR(64) NOT NULL,
    "createdAt" BIGINT NOT NULL,

    CONSTRAINT "deliveryPass_pkey" PRIMARY KEY ("shopId","deviceId","memberId")
);

-- CreateIndex
CREATE UNIQUE INDEX "deliveryPass_secretSha256_key" ON "deliveryPass"("secretSha256");

-- AddForeignKey
ALTER TABLE "deliveryPass" ADD CONSTRAINT "deliveryPass_shopId_deviceId_fkey" FOREIGN KEY ("shopId", "deviceId") REFERENCES "device"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deliveryPass" ADD CONSTRAINT "deliveryPass_shopId_memberId_fkey" FOREIGN KEY ("shopId", "memberId") REFERENCES "member"("shopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AlterTable
ALTER TABLE "coat" ADD COLUMN "needsWord" TEXT;
ALTER TABLE "reading" ADD COLUMN "needsWord" TEXT;
ALTER TABLE "roomStay" ADD COLUMN "needsWord" TEXT;
ALTER TABLE "test" ADD COLUMN "needsWord" TEXT;
