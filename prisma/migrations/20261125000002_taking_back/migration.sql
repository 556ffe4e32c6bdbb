-- CreateIndex
CREATE INDEX "ruling_shopId_recordedAt_idx" ON "ruling"("shopId", "recordedAt");
