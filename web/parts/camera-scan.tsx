import { useEffect, useRef, useState } from 'react';
import { scanText as words } from '../messages/en-scan.ts';
import { Button } from './button.tsx';
import { codeReader, type CodeReader } from './code-reader.ts';
import { Dialog } from './dialog.tsx';
import './camera-scan.css';

interface CameraScanProps {
  /** What stands in the code. */
  onRead: (tag: string) => void;
}

/** Reads a label with the camera; nothing is shown where the browser cannot. */
export function CameraScan({ onRead }: CameraScanProps) {
  const [reader, setReader] = useState<CodeReader | null>(null);
  const [isOpen, setOpen] = useState(false);
  useEffect(() => {
    let gone = false;
    void codeReader().then((found) => {
      // A function alone would be taken for an update of what stood there.
      if (!gone) setReader(() => found);
    });
    return () => {
      gone = true;
    };
  }, []);
  if (!reader) return null;
  return (
    <>
      <Button onClick={() => setOpen(true)}>{words.open}</Button>
      {isOpen && (
        <Dialog title={words.title} onClose={() => setOpen(false)}>
          <Finder
            reader={reader}
            onRead={(tag) => {
              setOpen(false);
              onRead(tag);
            }}
          />
          <div className="row">
            <Button onClick={() => setOpen(false)}>{words.close}</Button>
          </div>
        </Dialog>
      )}
    </>
  );
}

const LOOK_EVERY_MS = 200;

/** The picture of the camera, looked at several times a second until a code is in it. */
function Finder({ reader, onRead }: CameraScanProps & { reader: CodeReader }) {
  const video = useRef<HTMLVideoElement>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const read = useRef(onRead);
  read.current = onRead;
  useEffect(() => {
    const seen = new AbortController();
    void look(reader, video.current, seen.signal).then(
      (tag) => {
        if (tag !== null) read.current(tag);
      },
      () => setProblem(words.noCamera),
    );
    return () => seen.abort();
  }, [reader]);
  return (
    <>
      <p className="measure">{problem ?? words.hold}</p>
      <video ref={video} className="camera-picture" muted playsInline aria-label={words.picture} />
    </>
  );
}

/** @returns what the first code says, null when it was given up; @throws where the camera may not be used */
async function look(reader: CodeReader, video: HTMLVideoElement | null, given: AbortSignal): Promise<string | null> {
  if (!video) return null;
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
  try {
    video.srcObject = stream;
    await video.play();
    while (!given.aborted) {
      const text = await reader(video);
      if (text !== null) return text;
      await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
    }
    return null;
  } finally {
    stream.getTracks().forEach((track) => track.stop());
  }
}
