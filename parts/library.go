package parts
