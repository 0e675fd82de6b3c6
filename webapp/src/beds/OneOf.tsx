// One of the farm's own, or a new one: by one tap where they are few, from a list where they are many.

interface Named<T extends string> {
  readonly id: T
  readonly name: string
}

interface OneOfProps<T extends string> {
  /** Id of the heading. */
  readonly labelledBy: string
  readonly all: readonly Named<T>[]
  readonly at: T
  readonly fresh: Named<T>
  readonly onChoose: (id: T) => void
}

const few = 4

export function OneOf<T extends string>({ labelledBy, all, at, fresh, onChoose }: OneOfProps<T>) {
  const choices = [...all, fresh]
  if (all.length <= few) {
    return (
      <div class="choices" role="group" aria-labelledby={labelledBy}>
        {choices.map(({ id, name }) => (
          <button key={id} type="button" class="btn" aria-pressed={id === at} onClick={() => onChoose(id)}>{name}</button>
        ))}
      </div>
    )
  }
  const chosen = choices.find(({ id }) => id === at) ?? fresh
  return (
    <div class="field">
      <select
        aria-labelledby={labelledBy} value={chosen.id}
        onChange={(event) => {
          const picked = choices.find(({ id }) => id === event.currentTarget.value)
          if (picked) onChoose(picked.id)
        }}
      >
        {choices.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </div>
  )
}
