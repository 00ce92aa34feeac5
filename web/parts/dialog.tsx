import { type ReactNode, useEffect, useId, useRef } from 'react';

interface DialogProps {
  title: string;
  onClose: () => void;
  /** Escape does not close it: nothing behind it works until it is answered. */
  stays?: boolean;
  children: ReactNode;
}

/** A modal question. Escape closes it; the focus goes back to where it came from. */
export function Dialog({ title, onClose, stays = false, children }: DialogProps) {
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
  const cancel = (event: { preventDefault: () => void }) => {
    if (stays) event.preventDefault();
    else onClose();
  };
  return (
    <dialog ref={element} className="dialog" aria-labelledby={titleId} onCancel={cancel}>
      <h2 id={titleId}>{title}</h2>
      {children}
    </dialog>
  );
}
