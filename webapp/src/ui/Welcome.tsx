// A page before the places: the corymb head, a title, and what is to be said or asked.

import type { ComponentChildren } from 'preact'
import { Head } from './Head'

interface WelcomeProps {
  readonly title: string
  readonly children: ComponentChildren
}

export function Welcome({ title, children }: WelcomeProps) {
  return (
    <main class="welcome">
      <Head swatch="#17563a" size={72} />
      <h1>{title}</h1>
      {children}
    </main>
  )
}
