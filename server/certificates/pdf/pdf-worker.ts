/** Sets papers in a thread of its own, one after the other as they are asked for. */
import { parentPort } from 'node:worker_threads';
import { reportPdf } from '../../experiments/papers/report.ts';
import { sheetPdf } from '../../experiments/papers/sheet.ts';
import { worksheetPdf } from '../../experiments/papers/worksheet.ts';
import { labelSheetPdf } from '../../labels/sheet.ts';
import { recordingSheetPdf } from '../../recording-sheets/sheet.ts';
import { benchSheetPdf } from '../../solutions/papers/bench-sheet.ts';
import { preparationLabelPdf } from '../../solutions/papers/label.ts';
import { preparationSheetPdf } from '../../solutions/papers/sheet.ts';
import { failedOf } from '../../thread-failure.ts';
import { certificatePdf } from './certificate.ts';
import { historyPdf } from './history.ts';
import type { Paperwork } from './making.ts';
import { termPdf } from './term.ts';

const make = (paper: Paperwork): Promise<Buffer> => {
  switch (paper.kind) {
    case 'certificate':
      return certificatePdf(paper.issued, paper.entry, Buffer.from(paper.xml));
    case 'history':
      return historyPdf(paper.input);
    case 'term':
      return termPdf(paper.input);
    case 'class-report':
      return reportPdf(paper.input);
    case 'class-worksheet':
      return worksheetPdf(paper.input);
    case 'class-sheet':
      return sheetPdf(paper.input);
    case 'labels':
      return labelSheetPdf(paper.input);
    case 'recording-sheets':
      return recordingSheetPdf(paper.input);
    case 'bench-sheet':
      return benchSheetPdf(paper.input);
    case 'preparation-label':
      return preparationLabelPdf(paper.input);
    case 'preparation-sheet':
      return preparationSheetPdf(paper.input);
  }
};

parentPort?.on('message', ({ ticket, paper }: { ticket: number; paper: Paperwork }) => {
  make(paper).then(
    (bytes) => parentPort?.postMessage({ ticket, bytes }),
    (error: unknown) => parentPort?.postMessage({ ticket, failed: failedOf(error) }),
  );
});
