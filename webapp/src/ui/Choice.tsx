// One choice of few, each in sight.

interface ChoiceProps<T extends string> {
  readonly name: string
  readonly value: T
  readonly options: readonly (readonly [T, string])[]
  readonly onChoose: (value: T) => void
}

export function Choice<T extends string>({ name, value, options, onChoose }: ChoiceProps<T>) {
  return (
    <fieldset class="field">
      <legend>{name}</legend>
      <div class="choices">
        {options.map(([one, text]) => (
          <button key={one} type="button" class="btn" aria-pressed={one === value} onClick={() => onChoose(one)}>{text}</button>
        ))}
      </div>
    </fieldset>
  )
}
