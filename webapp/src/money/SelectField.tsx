// One of several, chosen from a list.

interface SelectFieldProps {
  readonly label: string
  readonly value: string
  /** What '' is called, where it may be none. */
  readonly none?: string
  readonly options: readonly (readonly [string, string])[]
  readonly onChoose: (value: string) => void
}

export function SelectField({ label, value, none, options, onChoose }: SelectFieldProps) {
  return (
    <label class="field">
      <span>{label}</span>
      <select value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
        {none !== undefined && <option value="">{none}</option>}
        {options.map(([id, name]) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}
