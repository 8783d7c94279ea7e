"""What is drawn on paper: sheet sizes, marks in mm, and the PDF back end that draws them."""
