"""What single changes of a yard would save: changes in plain words, each solved for real, best first."""
