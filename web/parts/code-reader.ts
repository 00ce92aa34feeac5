/** Reads the code in a picture: its text, or null while there is none. */
export type CodeReader = (picture: HTMLVideoElement) => Promise<string | null>;

/** The part of the browser's own barcode detector that is used here. */
interface Detector {
  detect: (picture: HTMLVideoElement) => Promise<{ rawValue: string }[]>;
}
interface DetectorClass {
  new (options: { formats: string[] }): Detector;
  getSupportedFormats: () => Promise<string[]>;
}

const FORMATS = ['qr_code', 'data_matrix'];

/** The browser's reader of the codes on labels; null where it has none, or gives no camera (on plain http). */
export async function codeReader(): Promise<CodeReader | null> {
  const { BarcodeDetector } = window as { BarcodeDetector?: DetectorClass };
  // On plain http beyond this machine browsers give no camera at all.
  if (!BarcodeDetector || !('mediaDevices' in navigator)) return null;
  const supported = await BarcodeDetector.getSupportedFormats().catch((): string[] => []);
  const formats = FORMATS.filter((format) => supported.includes(format));
  if (formats.length === 0) return null;
  const detector = new BarcodeDetector({ formats });
  return async (picture) => {
    const [code] = await detector.detect(picture).catch(() => []);
    return code === undefined || code.rawValue.trim() === '' ? null : code.rawValue.trim();
  };
}
