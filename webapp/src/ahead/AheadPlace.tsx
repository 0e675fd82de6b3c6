// Ahead: what is to come, what may be promised of it, what to divide, and what is to be done.

import type { ComponentType } from 'preact'
import { Later } from '../ui/Later'
import { route } from '../ui/route'
import { AheadPage } from './AheadPage'
import './ahead.css'

/** Pages whose code comes when they are first opened, by the second part of their address. */
const loadPromise = (): Promise<ComponentType> => import('../promise/PromisePlace').then((promise) => promise.PromisePlace)
const loadDivision = (): Promise<ComponentType> => import('../division/DivisionPlace').then((division) => division.DivisionPlace)
const loadSeason = (): Promise<ComponentType> => import('../season/SeasonPlace').then((season) => season.SeasonPlace)
const later: Readonly<Record<string, () => Promise<ComponentType>>> = {
  ask: loadPromise, asks: loadPromise, weeks: loadPromise,
  division: loadDivision,
  tasks: loadSeason, weather: loadSeason,
}

export function AheadPlace() {
  const page = route.value[1] ?? ''
  const load = later[page]
  return load ? <Later key={page} load={load} /> : <AheadPage />
}
