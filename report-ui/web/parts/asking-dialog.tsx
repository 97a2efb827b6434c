// A question before something large is done. Nothing is chosen beforehand: the first button in it leaves things as they are.
import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';

interface AskingProps {
  readonly title: string;
  readonly children?: ComponentChildren;
  readonly yes: string;
  readonly onYes: () => void;
  readonly onNo: () => void;
}

export function AskingDialog({ title, children, yes, onYes, onNo }: AskingProps): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const before = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class="asking"
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onNo();
      }}
    >
      <h2 id={id}>{title}</h2>
      {children}
      <div class="asking-answers">
        <button type="button" class="button button-plain" onClick={onNo}>
          Leave it
        </button>
        <button type="button" class="button button-main" onClick={onYes}>
          {yes}
        </button>
      </div>
    </dialog>
  );
}
