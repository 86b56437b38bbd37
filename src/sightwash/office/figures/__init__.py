"""The firm's rig, rates and particulars: the figures that matter most as a form, the whole document as text."""
