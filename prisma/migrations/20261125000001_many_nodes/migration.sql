-- CreateTable
CREATE TABLE "documentWriter" (
    "documentId" UUID NOT NULL,
    "clientId" BIGINT NOT NULL,
    "memberId" UUID NOT NULL,
    "deviceId" UUID NOT NULL,

    CONSTRAINT "documentWriter_pkey" PRIMARY KEY ("documentId","clientId")
);

-- AddForeignKey
ALTER TABLE "documentWriter" ADD CONSTRAINT "documentWriter_documentId_fkey" FOREIGN KEY ("documentId") REFERENCES "sharedDocument"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
