// What lies ahead kept up to date entity by entity.

import { withdrawn } from '../log/read'
import type { Entity, EntityKey } from '../log/state'
import { type Ahead, type AskID, type IntentID, type TaskID, usualCosts, usualWarmth } from './ahead_nouns'
import { parseSeason } from './ahead_ids'
import { readAsk, readCosts, readIntent, readPlan, readTask, readWarmth, readWeather } from './ahead_read'
import type { Day } from './nouns'

export class LiveAhead {
  private readonly maps = emptyMaps()
  private warmth = usualWarmth
  private costs = usualCosts
  private now: Ahead | undefined

  /** The same object until something of it changes. */
  get ahead(): Ahead {
    this.now ??= { warmth: this.warmth, costs: this.costs, ...this.maps }
    return this.now
  }

  /** Takes an entity of what lies ahead, or the farm for how it reckons; what is withdrawn counts as gone. */
  take(key: EntityKey, entity: Entity | undefined): void {
    const gone = entity !== undefined && withdrawn(entity) ? entity : undefined
    const here = gone ? undefined : entity
    switch (key.type) {
      case 'farm':
        this.warmth = here ? readWarmth(here) : usualWarmth
        this.costs = here ? readCosts(here) : usualCosts
        break
      case 'ask':
        put(this.maps.asks, key.id as AskID, here && readAsk(here))
        put(this.maps.goneAsks, key.id as AskID, gone && readAsk(gone))
        break
      case 'task':
        put(this.maps.tasks, key.id as TaskID, here && readTask(here))
        put(this.maps.goneTasks, key.id as TaskID, gone && readTask(gone))
        break
      case 'weather':
        this.takeWeather(key.id as Day, here)
        break
      case 'intent':
        put(this.maps.intents, key.id as IntentID, here && readIntent(here))
        break
      case 'plan':
        this.takePlan(key.id, here)
        break
      default:
        return
    }
    this.now = undefined
  }

  clear(): void {
    for (const map of Object.values(this.maps)) map.clear()
    this.warmth = usualWarmth
    this.costs = usualCosts
    this.now = undefined
  }

  private takeWeather(day: Day, entity: Entity | undefined): void {
    const weather = entity && readWeather(entity)
    const wrong = weather !== undefined && weather.min > weather.max
    put(this.maps.weather, day, wrong ? undefined : weather)
    put(this.maps.weatherWrong, day, wrong ? weather : undefined)
  }

  private takePlan(id: string, entity: Entity | undefined): void {
    const season = parseSeason(id)
    if (season !== undefined) put(this.maps.plans, season, entity && readPlan(entity))
  }
}

/** What lies ahead of a farm that was asked for nothing yet. */
export function noAhead(): Ahead {
  return new LiveAhead().ahead
}

function put<K, V>(map: Map<K, V>, key: K, value: V | undefined): void {
  if (value === undefined) map.delete(key)
  else map.set(key, value)
}

type Mutable<T> = T extends ReadonlyMap<infer K, infer V> ? Map<K, V> : never

function emptyMaps() {
  const map = <K extends keyof Omit<Ahead, 'warmth' | 'costs'>>() => new Map() as Mutable<Ahead[K]>
  return {
    asks: map<'asks'>(), weather: map<'weather'>(), weatherWrong: map<'weatherWrong'>(), tasks: map<'tasks'>(), intents: map<'intents'>(),
    plans: map<'plans'>(), goneAsks: map<'goneAsks'>(), goneTasks: map<'goneTasks'>(),
  }
}
