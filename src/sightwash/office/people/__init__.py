"""First run, sign-in, invitations, members, the trail."""
