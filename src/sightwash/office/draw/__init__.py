"""Drawing and measuring a property, and looking at it: the sheet, operations with history, the live eye."""
