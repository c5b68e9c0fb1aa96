import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

export interface FieldProps {
  readonly label: string;
  /** A few words more, below the control. */
  readonly hint?: string | undefined;
  /** What is wrong with what was typed; one sentence. */
  readonly fault?: string | null;
  readonly children: (ids: { readonly id: string; readonly describedBy: string | undefined }) => ComponentChildren;
}

/** A control with its label, its hint and its fault, tied together for those who hear the page. */
export function Field({ label, hint, fault = null, children }: FieldProps) {
  const id = useId();
  const about = [hint !== undefined && `${id}-hint`, fault !== null && `${id}-fault`].filter((one) => one !== false);
  return (
    <div class={fault === null ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      {children({ id, describedBy: about.length > 0 ? about.join(' ') : undefined })}
      {hint !== undefined && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {fault !== null && (
        <p class="field-fault" id={`${id}-fault`} role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
