import { type ReactNode, useEffect, useId, useRef } from 'react';

interface DialogProps {
  title: string;
  onClose: () => void;
  children: ReactNode;
}

/** A modal question. Escape closes it; the focus goes back to where it came from. */
export function Dialog({ title, onClose, children }: DialogProps) {
  const element = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const dialog = element.current;
    const before = document.activeElement;
    dialog?.showModal();
    return () => {
      dialog?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog ref={element} className="dialog" aria-labelledby={titleId} onCancel={onClose}>
      <h2 id={titleId}>{title}</h2>
      {children}
    </dialog>
  );
}
