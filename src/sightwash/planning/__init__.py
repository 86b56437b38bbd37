"""Floor 3: decisions. Each planner is ``plan_x(...)`` and returns a frozen dataclass."""
